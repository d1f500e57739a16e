"""The chart of a course as facts: corrections in place, strikes and signatures applied."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import Row, bindparam
from sqlmodel import Session

from app.charting.facts import Assessment, Kind, Reading
from app.record import readings
from app.record.readings import Found
from app.record.tables import (
    AssessmentRow,
    AssessmentStrikeRow,
    CoSignatureRow,
    table_of,
)
from app.record.versions import authored, chains, newest, of_course

ASSESSMENT = table_of(AssessmentRow)
_SOME = authored(AssessmentRow, ASSESSMENT.c.id.in_(bindparam("some", expanding=True)))
_LATER = authored(AssessmentRow, ASSESSMENT.c.supersedes_id.in_(bindparam("some", expanding=True)))

Chain = tuple[Row[Any], ...]


def assessments(
    session: Session, course_id: str, since: datetime | None = None, until: str | None = None
) -> tuple[Assessment, ...]:
    """The rows of the chart, oldest observed first; struck and unsigned ones say so.

    With `until`, the chart as it stood when the row with that key was the last one written.
    """
    versions = chains(of_course(session, AssessmentRow, course_id, until))
    if since is None:
        return _built(
            session, course_id, versions, readings.of_course(session, course_id, until), until
        )
    shown = [chain for chain in versions if chain[-1].observed_at >= since]
    found = readings.of_assessments(session, [chain[0].id for chain in shown], until)
    return _built(session, course_id, shown, found, until)


def some_assessments(
    session: Session, course_id: str, ids: Collection[str], *, all_new: bool
) -> tuple[Assessment, ...]:
    """The same for some rows of the chart, named by their first version.

    `all_new` says that nothing was written of them but themselves and their readings.
    """
    found = readings.of_assessments(session, ids)
    if all_new:
        shown = chains(session.execute(_SOME, {"some": list(ids)}).all())
        return in_order(_assessment(chain, found.get(chain[0].id, {})) for chain in shown)
    return _built(session, course_id, chains(_with_later(session, ids)), found, None)


def _with_later(session: Session, ids: Collection[str]) -> list[Row[Any]]:
    """The rows with those keys, and every row that took the place of one of them since."""
    rows: list[Row[Any]] = []
    newer = session.execute(_SOME, {"some": list(ids)}).all()
    while newer:
        rows += newer
        newer = session.execute(_LATER, {"some": [row.id for row in newer]}).all()
    return rows


def in_order(rows: Iterable[Assessment]) -> tuple[Assessment, ...]:
    """Oldest observed first; between equal moments the one written first."""
    return tuple(sorted(rows, key=lambda row: (row.observed_at, row.id)))


def _built(
    session: Session, course_id: str, shown: Sequence[Chain], found: Found, until: str | None
) -> tuple[Assessment, ...]:
    strikes = newest(of_course(session, AssessmentStrikeRow, course_id, until))
    struck = {row.assessment_id: row for row in strikes if row.reason}
    signatures = of_course(session, CoSignatureRow, course_id, until)
    beside = {row.assessment_id: row for row in reversed(signatures)}
    return in_order(
        _assessment(
            chain,
            found.get(chain[0].id, {}),
            strike=struck.get(chain[0].id),
            beside=beside.get(chain[0].id),
        )
        for chain in shown
    )


def _assessment(
    versions: Sequence[Row[Any]],
    charted: Mapping[str, Reading],
    *,
    strike: Row[Any] | None = None,
    beside: Row[Any] | None = None,
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
        readings=charted,
        source=last.source,
        struck=strike.reason if strike is not None else "",
        struck_by=strike.author if strike is not None else "",
        struck_at=strike.recorded_at if strike is not None else None,
        signed=last.signed or beside is not None,
        co_signed_by=beside.author if beside is not None else "",
        co_signed_at=beside.recorded_at if beside is not None else None,
        author_id=first.author_id,
        paper_by=first.paper_by or "",
    )
