"""Which course a row of the chart belongs to, from the row's id alone."""

from sqlalchemy import select
from sqlmodel import Session

from app.record.errors import NotFound
from app.record.tables import AssessmentRow, table_of

ASSESSMENT = table_of(AssessmentRow)


def course_of_row(session: Session, assessment_id: str) -> str:
    """The course's id. Raises NotFound, also for the key of a later version of a row."""
    found = session.execute(
        select(ASSESSMENT.c.course_id).where(
            ASSESSMENT.c.id == assessment_id, ASSESSMENT.c.supersedes_id.is_(None)
        )
    ).scalar_one_or_none()
    if found is None:
        raise NotFound("assessment", assessment_id)
    return str(found)
