"""One form of a row as text, the same before and after storage and on both engines; its hash."""

import hashlib
import json
import re
from collections.abc import Mapping
from datetime import UTC, date, datetime
from decimal import Decimal
from enum import StrEnum
from functools import cache

from sqlalchemy import Table
from sqlmodel import SQLModel

from app.record.errors import Unstorable
from app.record.exact import plain
from app.record.tables import table_of

_UNSTORABLE = re.compile("[\x00\ud800-\udfff]")

Stored = str | int | bool | Decimal | datetime | date | None


_JSON = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def as_json(value: object) -> str:
    """JSON text with sorted keys and no spaces, so that equal content is equal text."""
    return _JSON.encode(value)


def sha256(text: str) -> str:
    """Hash of a text in UTF-8, as 64 hex digits."""
    return hashlib.sha256(text.encode()).hexdigest()


def values_of(row: SQLModel) -> dict[str, Stored]:
    """The row's columns as they go to the database."""
    table = table_of(type(row))
    given = vars(row)  # a row that was never in a session holds its values here
    return {name: _storable(table.name, name, given.get(name)) for name in _names(table)}


def values_given(kind: type[SQLModel], given: Mapping[str, Stored]) -> dict[str, Stored]:
    """The same from plain columns; those left out hold what the class says. None is built.

    Raises KeyError for a column that the table does not have.
    """
    table, values = table_of(kind), dict(_left_out(kind))
    for name, value in given.items():
        if name not in values:
            raise KeyError(f"{table.name}.{name}")
        values[name] = _storable(table.name, name, value)
    return values


@cache
def _names(table: Table) -> tuple[str, ...]:
    return tuple(column.name for column in table.columns)


@cache
def _left_out(kind: type[SQLModel]) -> Mapping[str, Stored]:
    fields = kind.model_fields
    return {
        name: None if fields[name].is_required() else fields[name].default
        for name in _names(table_of(kind))
    }


def row_sha256(table: str, values: Mapping[str, Stored]) -> str:
    """Hash of one row. Empty columns are left out, so that a column added later changes none."""
    given = {name: as_text(value) for name, value in values.items() if value is not None}
    return sha256(as_json([table, given]))


def _storable(table: str, column: str, value: Stored) -> Stored:
    if isinstance(value, str):
        return _storable_text(table, column, value)
    if isinstance(value, Decimal) and not value.is_finite():
        raise Unstorable(table, column, f"{value} is not a number that can be stored")
    if isinstance(value, datetime) and value.utcoffset() is None:
        raise Unstorable(table, column, "a moment without its offset from UTC")
    return value


def _storable_text(table: str, column: str, value: str) -> str:
    """Plain text that both engines can keep: no NUL character, no half of a surrogate pair."""
    if _UNSTORABLE.search(value):
        raise Unstorable(table, column, "a character that cannot be stored")
    return value.value if isinstance(value, StrEnum) else value


def as_text(value: Stored) -> str | int | bool | None:
    """A stored value as JSON can hold it: moments in UTC, decimals with their places."""
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat(timespec="microseconds")
    if isinstance(value, date):
        return value.isoformat()
    return plain(value) if isinstance(value, Decimal) else value
