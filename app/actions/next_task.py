"""The next version of a task: what it asks for stays, what became of it is new."""

from app.charting.handing_over import Task, TaskState
from app.record.tables import TaskRow


def next_task(course_id: str, task: Task, state: TaskState, reason: str) -> TaskRow:
    """The row that supersedes the task's newest; a rule's name stays with its first."""
    return TaskRow(
        supersedes_id=task.version_id,
        course_id=course_id,
        words=task.words,
        due_at=task.due_at,
        owner=task.owner,
        source=task.source.value,
        state=state.value,
        reason=reason,
    )
