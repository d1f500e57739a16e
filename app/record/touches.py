"""What was written about a course behind a key: asked before what was read of it is used again."""

from typing import Any

from msgspec import Struct
from sqlalchemy import Select, Table, bindparam, literal, null, select, union_all
from sqlmodel import Session

from app.record.tables import (
    RECORD_ROWS,
    AssessmentRow,
    AssessmentStrikeRow,
    BedRow,
    CoSignatureRow,
    CourseRow,
    PatientDetailsRow,
    ReadingRow,
    table_of,
)

ASSESSMENT = table_of(AssessmentRow)
OF_THE_CHART = tuple(
    table_of(kind) for kind in (AssessmentRow, ReadingRow, AssessmentStrikeRow, CoSignatureRow)
)
BESIDE_A_ROW = frozenset({table_of(AssessmentStrikeRow).name, table_of(CoSignatureRow).name})
BESIDE_THE_CHART = tuple(
    table
    for table in map(table_of, RECORD_ROWS)
    if "course_id" in table.c and table not in OF_THE_CHART
)
"""Whatever else a row of the record says of a course, tables of later revisions included."""


class Known(Struct, frozen=True):
    """How far a course is known: by the last key written, its patient and the course's version."""

    until: str
    course_id: str
    patient_id: str
    version_id: str


class Touch(Struct, frozen=True):
    """A row that was written since. `assessment_id` is the row of the chart it is about, or empty.

    `is_new` for that row itself, `is_version` for one that takes its place; `says_more` for a
    strike or a signature, which lie beside it.
    """

    id: str
    assessment_id: str
    is_new: bool
    is_version: bool
    says_more: bool = False


def touches(session: Session, known: Known) -> list[Touch]:
    """Every row behind the key that is about the course, its patient or the beds; one query."""
    rows = session.execute(
        _SINCE,
        {
            "after": known.until,
            "course": known.course_id,
            "patient": known.patient_id,
            "version": known.version_id,
        },
    )
    return [
        Touch(
            key,
            of_row or "",
            is_new=table == ASSESSMENT.name and replaced is None,
            is_version=bool(replaced),
            says_more=table in BESIDE_A_ROW,
        )
        for table, key, of_row, replaced in rows
    ]


def _since(table: Table, *about: Any) -> Select[Any]:  # noqa: ANN401 - a column or a condition
    """Rows of one table behind the key. Few are, so that their index by course is passed by."""
    is_row = table is ASSESSMENT
    of_row = table.c.id if is_row else table.c.get("assessment_id", null())
    replaced = table.c.supersedes_id if is_row else null()
    found = select(literal(table.name), table.c.id, of_row, replaced)
    return found.where(table.c.id > bindparam("after"), *about)


def _about_course(table: Table) -> Select[Any]:
    return _since(table, table.c.course_id.concat("") == bindparam("course"))


_COURSE, _DETAILS, _BED = table_of(CourseRow), table_of(PatientDetailsRow), table_of(BedRow)
_SINCE = union_all(
    *map(_about_course, (*OF_THE_CHART, *BESIDE_THE_CHART)),
    _since(_DETAILS, _DETAILS.c.patient_id.concat("") == bindparam("patient")),
    _since(_BED),
    # A course's key is random and says nothing of when it was written.
    select(literal(_COURSE.name), _COURSE.c.id, null(), null()).where(
        _COURSE.c.supersedes_id == bindparam("version")
    ),
)
