"""Say that a task is done, not done and why, or moved to another time."""

from datetime import datetime

from msgspec import Struct
from msgspec.structs import asdict, replace

from app.actions.handoff_step import StepRefused, worded
from app.actions.next_task import next_task
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.handing_over import Task, TaskState
from app.charting.liberation import OPEN_AFTER
from app.record.errors import NotFound
from app.record.handoffs import tasks
from app.record.tables import TaskRow
from app.record.writing import Writing

WAITS_FOR_A_FACT = (
    "This is closed by charting the fact itself: the task leads there. To close it without, write "
    "why."
)


class Settled(Struct, frozen=True):
    """What became of a task. `due_at` is the new time of one that was moved."""

    task_id: str
    state: TaskState
    reason: str = ""
    due_at: datetime | None = None


def settle_task(writing: Writing, course_id: str, settled: Settled, *, save_key: str = "") -> str:
    """Write the task's next version; returns its id. What it said before stays readable.

    Raises NotFound, and StepRefused for a task that is settled already, that was not done without
    a reason, or that was moved without a time. A task that waits for a fact is done by charting
    it; without the fact it says why it is closed.
    """
    content = asdict(settled)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    task = _find(writing, course_id, settled.task_id)
    row = _next_version(course_id, task, settled)
    writing.add_as("settle_task", row, course_id=course_id)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def _find(writing: Writing, course_id: str, task_id: str) -> Task:
    for task in tasks(writing.session, course_id):
        if task.id == task_id:
            if not task.is_open:
                raise StepRefused(f"{task.changed_by} has settled this task already.")
            return task
    raise NotFound("task", task_id)


def _next_version(course_id: str, task: Task, settled: Settled) -> TaskRow:
    if settled.state is TaskState.MOVED and settled.due_at is None:
        raise StepRefused("Write the new time of the task.")
    wants_reason = settled.state is TaskState.NOT_DONE
    if settled.state is TaskState.DONE and task.rule in OPEN_AFTER and not settled.reason.strip():
        raise StepRefused(WAITS_FOR_A_FACT)
    reason = worded(settled.reason, "why it was not done") if wants_reason else settled.reason
    moved = settled.state is TaskState.MOVED
    stands = replace(task, due_at=settled.due_at) if moved else task
    return next_task(course_id, stands, settled.state, reason.strip())
