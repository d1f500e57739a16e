"""What a backup holds: which tables, in which order, and a row as one line of text and back.

Sessions, what was said in them of whose chart it is, throttles, drafts and keys of saved forms stay
out. No fact rests on them: whoever had a session signs in again, a key of a form protects nothing
once the session that could send it again is gone, and a draft restored hours later would offer old
numbers as if somebody had just read them.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

from sqlalchemy import Boolean, Column, Date, Integer, Table, select
from sqlmodel import Session, SQLModel
from sqlmodel.sql.sqltypes import UTCDateTime

from app.record.canonical import Stored, as_json, as_text
from app.record.exact import ExactDecimal
from app.record.tables import (
    RECORD_ROWS,
    DraftRow,
    IdempotencyKeyRow,
    IdentityCheckRow,
    LastLookRow,
    SessionRow,
    ThrottleRow,
    table_of,
)
from app.record.versions import chains

LEFT_OUT = frozenset(
    table_of(kind)
    for kind in (
        SessionRow,
        IdentityCheckRow,
        ThrottleRow,
        DraftRow,
        IdempotencyKeyRow,
        LastLookRow,
    )
)

COPIED: tuple[Table, ...] = tuple(
    table for table in SQLModel.metadata.sorted_tables if table not in LEFT_OUT
)
"""Every other table, so that a new one is in a backup unless somebody says no; what a row names
comes before the row."""

AT_ONCE = 1000
"""Rows fetched, or written, in one statement."""

_OUT_OF_ORDER = frozenset(table_of(kind) for kind in RECORD_ROWS if kind.random_id)
"""Their ids do not grow, so that a row may sort before the one that it supersedes."""

Values = Mapping[str, Stored]


def rows_of(session: Session, table: Table) -> Iterator[Values]:
    """Every row, each after the row that it supersedes."""
    if table in _OUT_OF_ORDER:
        found = session.execute(select(table).order_by(*table.primary_key.columns)).all()
        yield from (_values(row._mapping) for chain in chains(found) for row in chain)
        return
    (key,) = table.primary_key.columns
    page = select(table).order_by(key).limit(AT_ONCE)
    some = session.execute(page).mappings().all()
    while some:
        yield from map(_values, some)
        some = session.execute(page.where(key > some[-1][key.name])).mappings().all()


def _values(row: Mapping[Any, Any]) -> Values:
    return {str(name): value for name, value in row.items()}


def as_line(values: Values) -> bytes:
    """A row as one line of JSON; empty columns are left out."""
    given = {name: as_text(value) for name, value in values.items() if value is not None}
    return as_json(given).encode() + b"\n"


def from_line(table: Table, line: bytes) -> Values:
    """The row again, every column of the table named. Raises ValueError for any other text."""
    given = json.loads(line)
    columns = {column.name: column for column in table.columns}
    if not isinstance(given, dict) or given.keys() - columns.keys():
        raise ValueError(f"no row of {table.name}")
    return {name: _read(column, given.get(name)) for name, column in columns.items()}


def _read(column: Column[Any], value: object) -> Stored:
    if value is None:
        return None
    reader = next((read for kind, read in _READERS if isinstance(column.type, kind)), _text)
    return reader(value)


def _exactly(kind: type) -> Callable[[object], Any]:
    """Takes values of one JSON type only: 1 is no truth, and true is no number."""

    def read(value: object) -> object:
        if type(value) is not kind:
            raise ValueError(f"{kind.__name__} expected")
        return value

    return read


_text = _exactly(str)


def _moment(value: object) -> datetime:
    moment = datetime.fromisoformat(_text(value))
    if moment.utcoffset() is None:
        raise ValueError("a moment without its offset from UTC")
    return moment.astimezone(UTC)


def _decimal(value: object) -> Decimal:
    try:
        return Decimal(_text(value))
    except ArithmeticError:
        raise ValueError("no decimal") from None


def _day(value: object) -> date:
    return date.fromisoformat(_text(value))


_READERS: tuple[tuple[type, Callable[[object], Stored]], ...] = (
    (UTCDateTime, _moment),
    (ExactDecimal, _decimal),
    (Date, _day),
    (Boolean, _exactly(bool)),
    (Integer, _exactly(int)),
)
