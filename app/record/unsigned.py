"""The drafts of a unit that nobody has signed and nobody has struck, whoever's bed they are of."""

from datetime import datetime

from msgspec import Struct
from sqlalchemy import ColumnElement, select
from sqlmodel import Session

from app.record.tables import (
    AssessmentRow,
    AssessmentStrikeRow,
    CoSignatureRow,
    CourseRow,
    table_of,
)
from app.record.versions import authored, chains

ASSESSMENT = table_of(AssessmentRow)
STRIKE = table_of(AssessmentStrikeRow)
SIGNATURE = table_of(CoSignatureRow)
COURSE = table_of(CourseRow)


class Unsigned(Struct, frozen=True):
    """One draft without its values: whose course, who wrote it, and when."""

    course_id: str
    assessment_id: str
    kind: str
    observed_at: datetime
    recorded_at: datetime
    author: str
    author_id: str


def unsigned_drafts(
    session: Session, unit_id: str, author_id: str | None = None
) -> tuple[Unsigned, ...]:
    """What waits for a signature in a unit, oldest observed first; of one author if asked.

    Read from an index of the few unsigned rows, so that its cost does not grow with the chart.
    """
    of_unit = ASSESSMENT.c.course_id.in_(select(COURSE.c.id).where(COURSE.c.unit_id == unit_id))
    rows = session.execute(
        authored(AssessmentRow, ~ASSESSMENT.c.signed, of_unit, ~_signed_beside(), ~_struck())
    ).all()
    found = [
        Unsigned(
            course_id=chain[0].course_id,
            assessment_id=chain[0].id,
            kind=chain[-1].kind,
            observed_at=chain[-1].observed_at,
            recorded_at=chain[0].recorded_at,
            author=chain[0].author,
            author_id=chain[0].author_id,
        )
        for chain in chains(rows)
        if author_id is None or chain[0].author_id == author_id
    ]
    return tuple(sorted(found, key=lambda draft: (draft.observed_at, draft.assessment_id)))


def _signed_beside() -> ColumnElement[bool]:
    return select(SIGNATURE.c.id).where(SIGNATURE.c.assessment_id == ASSESSMENT.c.id).exists()


def _struck() -> ColumnElement[bool]:
    """A strike that no later row has taken back."""
    later = STRIKE.alias("later")
    taken_back = select(later.c.id).where(later.c.supersedes_id == STRIKE.c.id).exists()
    return (
        select(STRIKE.c.id)
        .where(STRIKE.c.assessment_id == ASSESSMENT.c.id, STRIKE.c.reason != "", ~taken_back)
        .exists()
    )
