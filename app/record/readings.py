"""The readings of a chart as facts: each in its newest version, holding those before it."""

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from sqlalchemy import Row, Select, bindparam, select
from sqlmodel import Session

from app.charting.facts import Mark, Reading, State
from app.record.tables import ReadingRow, StaffRow, table_of
from app.record.versions import chains

READING = table_of(ReadingRow)
STAFF = table_of(StaffRow)

Found = Mapping[str, Mapping[str, Reading]]
"""Readings by assessment and field."""

AT_ONCE = 500
"""Keys in one IN list; both engines take far more, but plans stay simple."""

# In the order in which `_one` takes them apart: a long course has thousands of these rows.
_ROWS = (
    select(
        READING.c.id,
        READING.c.supersedes_id,
        READING.c.assessment_id,
        READING.c.field,
        READING.c.observed_at,
        READING.c.state,
        STAFF.c.display_name,
        READING.c.recorded_at,
        READING.c.number,
        READING.c.word,
        READING.c.raw,
        READING.c.unit_typed,
        READING.c.reason,
        READING.c.marks,
        READING.c.question,
        READING.c.why,
    )
    .join(STAFF, STAFF.c.id == READING.c.author_id)
    .order_by(READING.c.id)
)
_UNTIL = READING.c.id <= bindparam("until")
_OF_COURSE = _ROWS.where(READING.c.course_id == bindparam("course"))
_OF_ASSESSMENTS = _ROWS.where(READING.c.assessment_id.in_(bindparam("some", expanding=True)))
_OF_COURSE_UNTIL = _OF_COURSE.where(_UNTIL)
_OF_ASSESSMENTS_UNTIL = _OF_ASSESSMENTS.where(_UNTIL)

_STATES = {state.value: state for state in State}


def of_course(session: Session, course_id: str, until: str | None = None) -> Found:
    """Every reading of a course; with `until`, those written when that was the last key."""
    asked = _OF_COURSE if until is None else _OF_COURSE_UNTIL
    return _found(session.execute(asked, {"course": course_id, "until": until}).all())


def of_assessments(session: Session, ids: Collection[str], until: str | None = None) -> Found:
    """The same for some rows of the chart, named by their first version."""
    asked = _OF_ASSESSMENTS if until is None else _OF_ASSESSMENTS_UNTIL
    return _found([row for some in _parts(ids) for row in _some(session, asked, some, until)])


def _some(
    session: Session, asked: Select[Any], some: list[str], until: str | None
) -> Sequence[Row[Any]]:
    return session.execute(asked, {"some": some, "until": until}).all()


def _parts(ids: Collection[str]) -> Iterator[list[str]]:
    listed = list(ids)
    for start in range(0, len(listed), AT_ONCE):
        yield listed[start : start + AT_ONCE]


def _found(rows: Sequence[Row[Any]]) -> Found:
    found: dict[str, dict[str, Reading]] = defaultdict(dict)
    if all(row.supersedes_id is None for row in rows):
        for row in rows:
            found[row.assessment_id][row.field] = _one(row, None)
        return found
    for chain in chains(rows):
        found[chain[0].assessment_id][chain[-1].field] = _newest(chain)
    return found


def _newest(versions: Sequence[Row[Any]]) -> Reading:
    corrected_from: Reading | None = None
    for row in versions[:-1]:
        corrected_from = _one(row, corrected_from)
    return _one(versions[-1], corrected_from)


def _one(row: Row[Any], corrected_from: Reading | None) -> Reading:
    values: tuple[Any, ...] = tuple(row)
    key, _, _, field, observed_at, state, author, recorded_at, number, word, *more = values
    raw, unit_typed, reason, marks, question, why = more
    return Reading(
        id=key,
        field=field,
        observed_at=observed_at,
        state=_STATES[state],
        author=author,
        recorded_at=recorded_at,
        number=number,
        word=word,
        raw=raw,
        unit_typed=unit_typed,
        reason=reason,
        marks=tuple(map(Mark, marks.split())) if marks else (),
        question=question,
        corrected_from=corrected_from,
        why=why or "",
    )
