"""The chart of a course as facts: corrections in place, strikes and signatures applied."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Row
from sqlmodel import Session

from app.charting.facts import Assessment, Event, Kind, Mark, Reading, State
from app.record.tables import (
    AssessmentRow,
    AssessmentStrikeRow,
    CoSignatureRow,
    EventEndRow,
    EventRow,
    ReadingRow,
    table_of,
)
from app.record.versions import authored, chains, newest, of_course

AT_ONCE = 500
"""Keys in one IN list; both engines take far more, but plans stay simple."""


def assessments(
    session: Session, course_id: str, since: datetime | None = None, until: str | None = None
) -> tuple[Assessment, ...]:
    """The rows of the chart, oldest observed first; struck and unsigned ones say so.

    With `until`, the chart as it stood when the row with that key was the last one written.
    """
    versions = chains(of_course(session, AssessmentRow, course_id, until))
    shown = [chain for chain in versions if since is None or chain[-1].observed_at >= since]
    shown.sort(key=lambda chain: (chain[-1].observed_at, chain[0].id))
    ids = None if since is None else [chain[0].id for chain in shown]
    readings = _readings(session, course_id, ids, until)
    strikes = newest(of_course(session, AssessmentStrikeRow, course_id, until))
    struck = {row.assessment_id: row for row in strikes if row.reason}
    signatures = of_course(session, CoSignatureRow, course_id, until)
    beside = {row.assessment_id: row for row in reversed(signatures)}
    return tuple(
        _assessment(
            chain,
            readings.get(chain[0].id, {}),
            strike=struck.get(chain[0].id),
            beside=beside.get(chain[0].id),
        )
        for chain in shown
    )


def events(
    session: Session, course_id: str, since: datetime | None = None, until: str | None = None
) -> tuple[Event, ...]:
    """What happened, oldest first. A state that has not ended is kept however old it is."""
    ends = newest(of_course(session, EventEndRow, course_id, until))
    ended = {row.event_id: row.ended_at for row in ends}
    found = [
        _event(chain, ended.get(chain[0].id))
        for chain in chains(of_course(session, EventRow, course_id, until))
    ]
    shown = [e for e in found if since is None or e.ended_at is None or e.ended_at >= since]
    return tuple(sorted(shown, key=lambda event: (event.observed_at, event.id)))


def _assessment(
    versions: Sequence[Row[Any]],
    readings: Mapping[str, Reading],
    *,
    strike: Row[Any] | None,
    beside: Row[Any] | None,
) -> Assessment:
    """Key, author and time of writing are the first version's, what was seen is the last's.

    `beside` is the first signature under a draft.
    """
    first, last = versions[0], versions[-1]
    return Assessment(
        id=first.id,
        kind=Kind(last.kind),
        observed_at=last.observed_at,
        recorded_at=first.recorded_at,
        author=first.author,
        mode_family=last.mode_family,
        readings=readings,
        source=last.source,
        struck=strike.reason if strike is not None else "",
        struck_by=strike.author if strike is not None else "",
        struck_at=strike.recorded_at if strike is not None else None,
        signed=last.signed or beside is not None,
        co_signed_by=beside.author if beside is not None else "",
        co_signed_at=beside.recorded_at if beside is not None else None,
        author_id=first.author_id,
    )


def _event(versions: Sequence[Row[Any]], ended_at: datetime | None) -> Event:
    first, last = versions[0], versions[-1]
    return Event(
        id=first.id,
        kind=last.kind,
        observed_at=last.observed_at,
        ended_at=ended_at,
        words=last.words,
        author=last.author,
    )


def _readings(
    session: Session, course_id: str, assessment_ids: list[str] | None, until: str | None
) -> dict[str, dict[str, Reading]]:
    """The newest readings by assessment and field."""
    found: dict[str, dict[str, Reading]] = defaultdict(dict)
    for rows in _reading_rows(session, course_id, assessment_ids, until):
        for chain in chains(rows):
            found[chain[0].assessment_id][chain[-1].field] = _reading(chain)
    return found


def _reading_rows(
    session: Session, course_id: str, assessment_ids: list[str] | None, until: str | None
) -> Iterator[Sequence[Row[Any]]]:
    table = table_of(ReadingRow)
    if assessment_ids is None:
        yield of_course(session, ReadingRow, course_id, until)
        return
    for start in range(0, len(assessment_ids), AT_ONCE):
        some = assessment_ids[start : start + AT_ONCE]
        yield session.execute(authored(ReadingRow, table.c.assessment_id.in_(some))).all()


def _reading(versions: Sequence[Row[Any]]) -> Reading:
    """The newest version, holding the one before, and so on down to the first."""
    corrected_from: Reading | None = None
    for row in versions[:-1]:
        corrected_from = _one_reading(row, corrected_from)
    return _one_reading(versions[-1], corrected_from)


def _one_reading(row: Row[Any], corrected_from: Reading | None) -> Reading:
    return Reading(
        id=row.id,
        field=row.field,
        observed_at=row.observed_at,
        state=State(row.state),
        author=row.author,
        recorded_at=row.recorded_at,
        number=row.number,
        word=row.word,
        raw=row.raw,
        unit_typed=row.unit_typed,
        reason=row.reason,
        marks=tuple(Mark(code) for code in row.marks.split()),
        question=row.question,
        corrected_from=corrected_from,
        why=row.why or "",
    )
