"""Strike a draft that nobody has signed: its author may, and who may correct the chart."""

from app.actions.co_sign import unsigned_row
from app.actions.give_reason import reason_in
from app.actions.refresh_summary import refresh_summary
from app.actions.strike_assessment import add_strike
from app.record.courses import course_facts
from app.record.writing import Writing


class AnothersDraft(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was struck: the draft is not one's own."""


def strike_draft(
    writing: Writing, course_id: str, assessment_id: str, reason: str, *, anybodys: bool
) -> None:
    """Strike one draft for a reason; it stays readable.

    Without `anybodys`, only one's own. Raises AnothersDraft, ReasonRefused, AlreadySigned,
    NotFound, and Conflict for a struck one.
    """
    row = unsigned_row(course_facts(writing.session, course_id), assessment_id)
    if not anybodys and row.author_id != writing.author_id:
        raise AnothersDraft("Only its author strikes a draft, or who may correct the chart.")
    add_strike(writing, course_id, row.id, reason_in(reason))
    refresh_summary(writing, course_id)
