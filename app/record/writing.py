"""One write: rows go in with their hashes, and audit lines seal them before the only commit."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import UTC, datetime, timedelta, tzinfo

from sqlalchemy import event
from sqlalchemy.orm import UOWTransaction
from sqlmodel import Session

from app.record import audit
from app.record.canonical import Stored, as_json, row_sha256, values_given, values_of
from app.record.errors import NotAudited
from app.record.ids import new_id, random_id
from app.record.inserts import insert_rows
from app.record.tables import RecordRow, table_of

Clock = Callable[[], datetime]

END_OF_CHAIN = "end of chain"
"""Under which name a write's session holds the end of the chain: nobody else moves it meanwhile."""

CLOCK_BEHIND = timedelta(seconds=2)
"""From how far on a clock behind the last line is worth a word in the audit line."""


class WriteSession(Session):
    """A session for writers. Record rows do not pass through it: `Writing.add` is their way."""


@event.listens_for(WriteSession, "before_flush")
def _only_through_add(session: Session, _context: UOWTransaction, _instances: object) -> None:
    for row in session.new:
        if isinstance(row, RecordRow):
            raise NotAudited(f"a row of {type(row).__tablename__} was added past the audit")


class Writing:
    """What one write holds: its session, its moment, its place in the chain, and its author.

    `recorded_at` is read inside the lock and is never before the last line of the chain: a clock
    that was set back must not make a newer row look older. `sequence` is the number of the
    write's first audit line.
    """

    def __init__(
        self,
        session: Session,
        clock: Clock,
        author_id: str | None,
        zone: tzinfo | None,
        workstation: str,
    ) -> None:
        self.session = session
        self.author_id = author_id
        self.zone = zone
        self.workstation = workstation
        self._tail = audit.tail(session)
        session.info[END_OF_CHAIN] = self._tail
        now = clock()
        self.recorded_at = now if self._tail.at is None else max(now, self._tail.at)
        self._behind = self.recorded_at - now
        self.sequence = self._tail.seq + 1
        self._numbered = 0
        self._offsets: dict[datetime, int] = {}
        self._rows: list[tuple[str, str, str]] = []
        self._lines: list[audit.Line] = []

    def add(self, *rows: RecordRow) -> None:
        """Write rows now, each kind in one statement, in the order given.

        Fills in what is empty: `id`, `recorded_at`, `author_id` and `zone_offset_min`.
        Raises Conflict for a taken key or a link to nothing, Unstorable for a bad value.
        """
        kinds: dict[type[RecordRow], list[dict[str, Stored]]] = defaultdict(list)
        for row in rows:
            self._fill(row)
            kinds[type(row)].append(values_of(row))
        for kind, values in kinds.items():
            self._insert(kind, values)

    def add_as(self, act: str, row: RecordRow, *, course_id: str | None = None) -> None:
        """Write one row, and say that the act is about it; raises what `add` raises."""
        self.add(row)
        self.audit(act, course_id=course_id, subject=row)

    def add_all(self, kind: type[RecordRow], rows: Iterable[Mapping[str, Stored]]) -> list[str]:
        """The same for rows of one kind, each given as its columns; their keys.

        A check comes this way: building its rows as objects, only to take them apart again, would
        be the largest part of a save.
        """
        filled = [self._filled(kind, given) for given in rows]
        self._insert(kind, filled)
        return [str(row["id"]) for row in filled]

    def audit(
        self,
        act: str,
        *,
        staff_id: str | None = None,
        course_id: str | None = None,
        subject: RecordRow | tuple[str, str] | None = None,
        detail: Mapping[str, object] | None = None,
    ) -> None:
        """Say what this write is. `staff_id` is the write's author unless given.

        `subject` is the row the act is about, or its table and id. `detail` must not hold
        anything that names a patient.
        """
        table, key = _subject(subject)
        more = dict(detail or {})
        if self._behind >= CLOCK_BEHIND and not self._lines:
            more["clock_behind_s"] = int(self._behind.total_seconds())
        self._lines.append(
            audit.Line(
                act=act,
                staff_id=staff_id or self.author_id,
                course_id=course_id,
                subject_table=table,
                subject_id=key,
                detail=as_json(more) if more else "",
                workstation=self.workstation,
            )
        )

    def finish(self) -> None:
        """Seal the write; called once by the database, right before it commits."""
        self.session.flush()
        if not self._lines:
            raise NotAudited("a write needs an audit line: nothing was kept")
        audit.append(self.session, self._tail, self.recorded_at, self._lines, self._rows)

    def new_id(self) -> str:
        """The next key of this write, for a row that another row has to name beforehand."""
        self._numbered += 1
        return new_id(self.recorded_at, self.sequence, self._numbered)

    def _insert(self, kind: type[RecordRow], rows: Sequence[Mapping[str, Stored]]) -> None:
        if not rows:
            return
        table = table_of(kind)
        self._rows += [(table.name, str(row["id"]), row_sha256(table.name, row)) for row in rows]
        insert_rows(self.session.connection(), table, rows)

    def _fill(self, row: RecordRow) -> None:
        row.id = row.id or self._key(type(row))
        row.recorded_at = self.recorded_at
        row.author_id = row.author_id or self.author_id or ""
        if row.zone_offset_min is None:
            row.zone_offset_min = self._offset_min(getattr(row, row.moment_column))

    def _filled(self, kind: type[RecordRow], given: Mapping[str, Stored]) -> dict[str, Stored]:
        row = values_given(kind, given)
        row["id"] = row["id"] or self._key(kind)
        row["recorded_at"] = self.recorded_at
        row["author_id"] = row["author_id"] or self.author_id or ""
        if row["zone_offset_min"] is None:
            row["zone_offset_min"] = self._offset_min(row[kind.moment_column])
        return row

    def _key(self, kind: type[RecordRow]) -> str:
        return random_id() if kind.random_id else self.new_id()

    def _offset_min(self, moment: Stored) -> int | None:
        if self.zone is None:
            return None
        at = (moment if isinstance(moment, datetime) else self.recorded_at).astimezone(UTC)
        if at not in self._offsets:
            self._offsets[at] = offset_min(at, self.zone)
        return self._offsets[at]


def offset_min(moment: datetime, zone: tzinfo) -> int:
    """Minutes that local time in the zone was ahead of UTC at that moment."""
    ahead = moment.astimezone(zone).utcoffset() or timedelta()
    return int(ahead.total_seconds() // 60)


def _subject(subject: RecordRow | tuple[str, str] | None) -> tuple[str | None, str | None]:
    if isinstance(subject, RecordRow):
        return str(type(subject).__tablename__), subject.id
    return subject or (None, None)
