"""Write down something that is left to do, with its time, its owner and where it comes from."""

from datetime import datetime

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.handoff_step import StepRefused, worded
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.handing_over import Source, TaskState
from app.record.courses import find_course
from app.record.tables import TaskRow
from app.record.writing import Writing


class NewTask(Struct, frozen=True):
    """A task as it was typed; the time is absolute, None where nobody gave one."""

    words: str
    due_at: datetime | None = None
    owner: str = ""
    source: Source = Source.PERSON


def add_task(writing: Writing, course_id: str, task: NewTask, *, save_key: str = "") -> str:
    """Keep the task; returns its id. Raises NotFound, and StepRefused for one without words."""
    if find_course(writing.session, course_id).ended_at is not None:
        raise StepRefused("This course is closed; nothing is planned in it any more.")
    content = asdict(task)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    row = TaskRow(
        course_id=course_id,
        words=worded(task.words, "what is left to do"),
        due_at=task.due_at,
        owner=task.owner.strip(),
        source=task.source.value,
        state=TaskState.OPEN.value,
    )
    writing.add_as("add_task", row, course_id=course_id)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id
