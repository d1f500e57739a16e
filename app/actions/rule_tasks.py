"""Tasks that a rule opens and closes again: each has the rule's name, by which it is found."""

from collections.abc import Sequence
from datetime import datetime

from msgspec import Struct

from app.actions.next_task import next_task
from app.charting.facts import CourseFacts
from app.charting.handing_over import Source, Task, TaskState
from app.record.tables import TaskRow
from app.record.writing import Writing


class RuleTask(Struct, frozen=True):
    """What a rule wants done, under its name."""

    rule: str
    words: str
    due_at: datetime | None = None


def open_rule_tasks(writing: Writing, facts: CourseFacts, wanted: Sequence[RuleTask]) -> None:
    """Write each task down, unless one of the same rule is open already."""
    is_open = {task.rule for task in facts.tasks if task.is_open and task.rule}
    rows = [
        TaskRow(
            course_id=facts.course_id,
            words=task.words,
            due_at=task.due_at,
            source=Source.RULE.value,
            state=TaskState.OPEN.value,
            rule=task.rule,
        )
        for task in wanted
        if task.rule not in is_open
    ]
    writing.add(*rows)
    for row in rows:
        writing.audit("open_rule_task", course_id=facts.course_id, subject=row)


def close_rule_task(writing: Writing, course_id: str, task: Task, reason: str) -> None:
    """Write that an open task of a rule is done, and by what."""
    row = next_task(course_id, task, TaskState.DONE, reason)
    writing.add_as("close_rule_task", row, course_id=course_id)
