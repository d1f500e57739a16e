"""The charts of courses as they were last read, brought up to date by what was written since.

Rows are only ever added, and their keys grow in the order of writing. So a chart that was read up
to one key is made complete by reading again the few rows of it that a later key touches: whatever
wrote them, in this process or another, they are found. A save therefore costs the same on the
thirtieth day of a course as on the first, and no fact is left out of it.
"""

from collections import OrderedDict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from threading import Lock

from sqlalchemy import Select, Table, bindparam, null, select, union_all
from sqlmodel import Session

from app.charting.facts import Assessment
from app.record.audit import tail
from app.record.chart import assessments, in_order, some_assessments
from app.record.ids import last_id
from app.record.tables import (
    AssessmentRow,
    AssessmentStrikeRow,
    CoSignatureRow,
    ReadingRow,
    table_of,
)

MOST_COURSES = 64
"""How many charts are kept; a long one is some megabytes."""

KEPT = "kept charts"
"""Under which name a session holds them; one that holds none reads every chart whole."""

OPEN = "charts of an open write"


@dataclass(frozen=True, slots=True)
class _Kept:
    """A chart as it stood when the row with the key `until` was the last one written."""

    until: str
    rows: tuple[Assessment, ...]


@dataclass(frozen=True, slots=True)
class _Touch:
    """A row that was written about a row of the chart; `replaces` is True for its next version."""

    id: str
    assessment_id: str
    replaces: bool


class KeptCharts:
    """The charts of one store, the least used forgotten first; safe to share between threads."""

    def __init__(self) -> None:
        self._kept: OrderedDict[str, _Kept] = OrderedDict()
        self._one_at_a_time = Lock()

    def read(self, session: Session, course_id: str) -> tuple[Assessment, ...]:
        """The chart as this session sees it, rows of its own open write included.

        Those are kept only when the write has been committed.
        """
        end = tail(session)
        until = last_id(end.at, end.seq) if end.at is not None else ""
        kept = self._find(course_id)
        if kept is None or kept.until > until:
            kept = _Kept(until, assessments(session, course_id, until=until))
        touched = _touched(session, course_id, kept.until)
        written = [touch for touch in touched if touch.id <= until]
        kept = _Kept(until, _brought_up(session, course_id, kept.rows, written, until))
        self._keep(course_id, kept)
        own = [touch for touch in touched if touch.id > until]
        if not own:
            return kept.rows
        rows = _brought_up(session, course_id, kept.rows, own, None)
        session.info.setdefault(OPEN, {})[course_id] = _Kept(max(t.id for t in own), rows)
        return rows

    def committed(self, session: Session) -> None:
        """Keep what was read of rows that this session had written itself, now that they stand."""
        for course_id, kept in session.info.pop(OPEN, {}).items():
            self._keep(course_id, kept)

    def _find(self, course_id: str) -> _Kept | None:
        with self._one_at_a_time:
            return self._kept.get(course_id)

    def _keep(self, course_id: str, kept: _Kept) -> None:
        with self._one_at_a_time:
            self._kept[course_id] = kept
            self._kept.move_to_end(course_id)
            if len(self._kept) > MOST_COURSES:
                self._kept.popitem(last=False)


def chart_of(
    session: Session, course_id: str, since: datetime | None = None, until: str | None = None
) -> tuple[Assessment, ...]:
    """The rows of the chart, from memory as far as it goes when the whole of it is wanted now."""
    charts: KeptCharts | None = session.info.get(KEPT)
    if charts is None or since is not None or until is not None:
        return assessments(session, course_id, since, until)
    return charts.read(session, course_id)


def _brought_up(
    session: Session,
    course_id: str,
    rows: tuple[Assessment, ...],
    touched: Iterable[_Touch],
    until: str | None,
) -> tuple[Assessment, ...]:
    """The rows with those that were touched read again."""
    if any(touch.replaces for touch in touched):
        return assessments(session, course_id, until=until)
    ids = {touch.assessment_id for touch in touched}
    if not ids:
        return rows
    anew = some_assessments(session, course_id, ids, until)
    return in_order((*(row for row in rows if row.id not in ids), *anew))


def _touched(session: Session, course_id: str, after: str) -> list[_Touch]:
    rows = session.execute(_SINCE, {"course": course_id, "after": after}).all()
    return [_Touch(key, of_row or key, bool(replaced)) for key, of_row, replaced in rows]


def _since(table: Table) -> Select[tuple[str, str | None, str | None]]:
    """Rows of one kind behind a key. Few are: asking for the course's own first would read all."""
    is_row = table is table_of(AssessmentRow)
    return select(
        table.c.id,
        null() if is_row else table.c.assessment_id,
        table.c.supersedes_id if is_row else null(),
    ).where(table.c.id > bindparam("after"), table.c.course_id.concat("") == bindparam("course"))


_SINCE = union_all(
    *(
        _since(table_of(kind))
        for kind in (AssessmentRow, ReadingRow, AssessmentStrikeRow, CoSignatureRow)
    )
)
