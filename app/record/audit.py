"""The chain of audit lines: who did what when, each line sealed by the hash of the one before."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlmodel import Session

from app.record.canonical import Stored, as_json, row_sha256
from app.record.inserts import insert_rows
from app.record.tables import AuditLineRow, table_of

NO_LINE = "0" * 64
"""What the first line holds as the hash of the line before."""

AT_ONCE = 500
"""Lines fetched in one statement."""

LINES = table_of(AuditLineRow)


class Tail(Struct, frozen=True):
    """Where the chain ends: the last line's number, hash and moment."""

    seq: int = 0
    hash: str = NO_LINE
    at: datetime | None = None


class Line(Struct, frozen=True):
    """What a write says of itself; the chain adds number, moment and seal."""

    act: str
    staff_id: str | None
    course_id: str | None
    subject_table: str | None
    subject_id: str | None
    detail: str
    workstation: str


_NEWEST = select(LINES.c.seq, LINES.c.hash, LINES.c.at).order_by(LINES.c.seq.desc()).limit(1)


def tail(session: Session) -> Tail:
    """The end of the chain; inside a write nobody else can move it."""
    row = session.connection().execute(_NEWEST).one_or_none()
    return Tail() if row is None else Tail(row.seq, row.hash, row.at)


def append(
    session: Session,
    end: Tail,
    at: datetime,
    lines: Sequence[Line],
    rows: Sequence[tuple[str, str, str]],
) -> None:
    """Seal the lines one after the other behind `end`; the first names the write's rows.

    `rows` holds table, id and hash of each row the write added.
    """
    sealed: list[dict[str, Stored]] = []
    previous = end.hash
    for place, line in enumerate(lines, start=1):
        values: dict[str, Stored] = {
            "seq": end.seq + place,
            "at": at,
            "staff_id": line.staff_id,
            "act": line.act,
            "subject_table": line.subject_table,
            "subject_id": line.subject_id,
            "course_id": line.course_id,
            "workstation": line.workstation,
            "detail": line.detail,
            "rows_sha256": as_json(rows) if place == 1 else "[]",
            "previous_hash": previous,
        }
        previous = seal(values)
        sealed.append({**values, "hash": previous})
    insert_rows(session.connection(), LINES, sealed)


def seal(values: Mapping[str, Stored]) -> str:
    """The hash of a line: of everything in it but the hash itself."""
    content = {name: value for name, value in values.items() if name != "hash"}
    return row_sha256(LINES.name, content)


def chain(session: Session) -> Iterator[Mapping[str, Stored]]:
    """Every line in order, fetched some hundred at a time, so that a long chain fits in memory."""
    after = 0
    while True:
        some = select(LINES).where(LINES.c.seq > after).order_by(LINES.c.seq).limit(AT_ONCE)
        lines = session.execute(some).mappings().all()
        for line in lines:
            yield {str(name): value for name, value in line.items()}
        if len(lines) < AT_ONCE:
            return
        after = lines[-1]["seq"]


def check_chain(session: Session) -> str:
    """Empty when every seal is right and every link holds; else what is wrong and where.

    A chain whose end was cut off looks whole: compare its tail with one kept elsewhere.
    """
    before = Tail()
    for line in chain(session):
        if wrong := _wrong(line, before):
            return wrong
        before = Tail(int(str(line["seq"])), str(line["hash"]), _moment(line["at"]))
    return ""


def _wrong(line: Mapping[str, Stored], before: Tail) -> str:
    seq = line["seq"]
    if seq != before.seq + 1:
        return f"line {before.seq + 1} is missing"
    if line["previous_hash"] != before.hash:
        return f"line {seq} does not follow line {before.seq}"
    if line["hash"] != seal(line):
        return f"line {seq} was changed after it was sealed"
    at = _moment(line["at"])
    if before.at is not None and at is not None and at < before.at:
        return f"line {seq} is older than line {before.seq}"
    return ""


def _moment(value: Stored) -> datetime | None:
    return value if isinstance(value, datetime) else None
