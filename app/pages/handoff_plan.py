"""What is left to do and what may come, as lines of the page."""

from collections.abc import Iterator, Mapping

from app.charting.handing_over import Source, Task, TaskState
from app.charting.liberation import AGAIN, OPEN_AFTER
from app.pages.changed import since_handing_over
from app.pages.frame import NavLink
from app.pages.handoff_page import PlanForms, TaskLine
from app.pages.if_then_words import offered_ifs
from app.pages.known import Known
from app.pages.times import clock_time, when_in
from app.rules.due_items import task_due

SOURCES: Mapping[Source, str] = {
    Source.PERSON: "",
    Source.ORDER: "ordered",
    Source.RULE: "by the unit's rule",
}
STATES: Mapping[TaskState, str] = {
    TaskState.OPEN: "",
    TaskState.MOVED: "moved",
    TaskState.DONE: "done",
    TaskState.NOT_DONE: "not done",
}


def task_lines(course: Known) -> tuple[TaskLine, ...]:
    """Open tasks by their time, those without one after them; then what was settled since.

    Since the shift began that is handed over: who comes reads the page after its end.
    """
    since = since_handing_over(course.facts, course.now, course.clock).at
    open_ones = [task for task in course.facts.tasks if task.is_open]
    settled = [task for task in course.facts.tasks if not task.is_open and task.changed_at >= since]
    by_time = sorted(open_ones, key=lambda task: (task.due_at is None, task.due_at or since))
    return tuple(_line(task, course) for task in (*by_time, *settled))


def _line(task: Task, course: Known) -> TaskLine:
    return TaskLine(
        key=task.id,
        words=task.words,
        state=task.state.value,
        when=when_in(task.due_at, course.now, course.clock) if task.due_at else None,
        owner=task.owner,
        source=SOURCES[task.source],
        became=_became(task, course),
        author=task.author,
        is_open=task.is_open,
        late=_late(task, course),
        ways=tuple(_ways(task, course)) if task.is_open else (),
    )


def _late(task: Task, course: Known) -> str:
    due = task_due(task, course.policy)
    if due is None or course.summary.muted is not None:
        return ""
    state = due.state(course.now, course.summary.away)
    return "" if state == "due" else state


def _ways(task: Task, course: Known) -> Iterator[NavLink]:
    """The forms that chart what an unplanned extubation left open; each closes its task."""
    base = f"/courses/{course.facts.course_id}"
    if task.rule == AGAIN:
        yield NavLink("Re-intubated", f"{base}/airway?act=placed")
        yield NavLink("Not re-intubated", f"{base}/liberation?act=told")
    elif task.rule in OPEN_AFTER:
        yield NavLink("Chart it", f"{base}/liberation?act=told")


def _became(task: Task, course: Known) -> str:
    if task.state is TaskState.OPEN:
        return ""
    at = clock_time(task.changed_at, course.now, course.clock)
    was = task.moved_from
    before = f", was {clock_time(was, course.now, course.clock)}" if was else ""
    moved = before if task.state is TaskState.MOVED else ""
    reason = f": {task.reason}" if task.reason else ""
    return f"{STATES[task.state]} {at}, {task.changed_by}{moved}{reason}"


def plan_forms(course: Known, save_key: str) -> PlanForms:
    """The forms with which somebody adds to the plan."""
    base = f"/courses/{course.facts.course_id}/handoff"
    return PlanForms(
        save_key=save_key,
        task_action=f"{base}/tasks",
        settle_action=f"{base}/tasks/settle",
        if_then_action=f"{base}/if-then",
        take_back_action=f"{base}/if-then/take-back",
        offered_ifs=offered_ifs(course),
    )
