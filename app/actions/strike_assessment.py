"""Strike a row of the chart: it stays readable and no longer counts."""

from app.actions.give_reason import reason_in
from app.actions.refresh_summary import refresh_summary
from app.actions.safety_tasks import settle_after_strike
from app.charting.facts import Assessment, CourseFacts
from app.record.courses import course_facts
from app.record.errors import Conflict, NotFound
from app.record.tables import AssessmentStrikeRow
from app.record.writing import Writing

ANOTHER_PATIENTS = "belongs to another patient"
"""All that a chart says of a row that was written on the wrong patient; never whose it is."""


def strike_assessment(writing: Writing, course_id: str, assessment_id: str, reason: str) -> None:
    """Strike one row for a reason. Raises ReasonRefused, NotFound, and Conflict if it is struck."""
    why = reason_in(reason)
    row = standing_row(course_facts(writing.session, course_id), assessment_id)
    add_strike(writing, course_id, assessment_id, why)
    settle_after_strike(writing, course_id, row)
    refresh_summary(writing, course_id)


def standing_row(facts: CourseFacts, assessment_id: str) -> Assessment:
    """A row of the course that is not struck. Raises NotFound and Conflict."""
    for row in facts.assessments:
        if row.id == assessment_id:
            if row.struck:
                raise Conflict("the row is struck already")
            return row
    raise NotFound("assessment", assessment_id)


def add_strike(writing: Writing, course_id: str, assessment_id: str, why: str) -> None:
    """Write the strike and its audit line, without touching the board."""
    strike = AssessmentStrikeRow(course_id=course_id, assessment_id=assessment_id, reason=why)
    writing.add(strike)
    writing.audit("strike_assessment", course_id=course_id, subject=("assessment", assessment_id))
