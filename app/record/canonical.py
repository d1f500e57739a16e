"""One form of a row as text, the same before and after storage and on both engines; its hash."""

import hashlib
import re
from collections.abc import Mapping
from datetime import UTC, date, datetime
from decimal import Decimal
from enum import StrEnum
from functools import cache, lru_cache

from msgspec import json
from sqlalchemy import Table
from sqlmodel import SQLModel

from app.record.errors import Unstorable
from app.record.exact import plain
from app.record.tables import table_of

Stored = str | int | bool | Decimal | datetime | date | None

_AS_IT_IS = frozenset({str, int, bool, type(None)})
"""Types whose values stand in a row, in its text and with the driver alike: most of any row."""

_UNSTORABLE = re.compile("[\x00\ud800-\udfff]")
_NUL = b"\\u0000"


def _word(value: object) -> str:
    """A text of a class of its own, such as a table's name, as the text that it is."""
    if isinstance(value, str):
        return str(value)
    raise TypeError(f"{type(value).__name__} has no JSON of its own")


_SORTED = json.Encoder(order="deterministic", enc_hook=_word)


def as_json(value: object) -> str:
    """JSON text with sorted keys and no spaces, so that equal content is equal text."""
    return _SORTED.encode(value).decode()


def sha256(text: str) -> str:
    """Hash of a text in UTF-8, as 64 hex digits."""
    return hashlib.sha256(text.encode()).hexdigest()


def values_of(row: SQLModel) -> dict[str, Stored]:
    """The row's columns as they go to the database."""
    given = vars(row)  # a row that was never in a session holds its values here
    return {name: _plain_word(given.get(name)) for name in _names(table_of(type(row)))}


def values_given(kind: type[SQLModel], given: Mapping[str, Stored]) -> dict[str, Stored]:
    """The same from plain columns; those left out hold what the class says. None is built.

    Raises KeyError for a column that the table does not have.
    """
    left_out = _left_out(kind)
    values = {**left_out, **given}
    if len(values) != len(left_out):
        raise KeyError(f"{table_of(kind).name}: {', '.join(given.keys() - left_out.keys())}")
    for name, value in given.items():
        if type(value) not in _AS_IT_IS:
            values[name] = _plain_word(value)
    return values


def _plain_word(value: Stored) -> Stored:
    return value.value if isinstance(value, StrEnum) else value


@cache
def _names(table: Table) -> tuple[str, ...]:
    return tuple(str(column.name) for column in table.columns)


@cache
def _left_out(kind: type[SQLModel]) -> Mapping[str, Stored]:
    fields = kind.model_fields
    return {
        name: None if fields[name].is_required() else fields[name].default
        for name in _names(table_of(kind))
    }


def row_sha256(table: str, values: Mapping[str, Stored]) -> str:
    """Hash of one row. Empty columns are left out, so that a column added later changes none.

    Raises Unstorable for a value that the two engines would not both give back as it is: what has
    no text of its own has no hash.
    """
    try:
        text = _SORTED.encode([table, _texts(values)])
    except ValueError:
        _refuse(table, values)
        raise
    if _NUL in text:  # the character, or somebody's own backslash
        _refuse(table, values)
    return hashlib.sha256(text).hexdigest()


def _texts(values: Mapping[str, Stored]) -> dict[str, str | int | bool | None]:
    return {
        name: value if type(value) in _AS_IT_IS else as_text(value)  # type: ignore[misc]
        for name, value in values.items()
        if value is not None
    }


def _refuse(table: str, values: Mapping[str, Stored]) -> None:
    """Name the first column that cannot be stored; nothing where each can."""
    for column, value in values.items():
        if isinstance(value, str) and _UNSTORABLE.search(value):
            raise Unstorable(table, column, "a character that cannot be stored")
        if isinstance(value, Decimal) and not value.is_finite():
            raise Unstorable(table, column, f"{value} is not a number that can be stored")
        if isinstance(value, datetime) and value.utcoffset() is None:
            raise Unstorable(table, column, "a moment without its offset from UTC")


def as_text(value: Stored) -> str | int | bool | None:
    """A stored value as JSON can hold it: moments in UTC, decimals with their places.

    Raises ValueError for a moment without its offset and for what is not a number.
    """
    if isinstance(value, datetime):
        if value.utcoffset() is None:
            raise ValueError("a moment without its offset from UTC")
        return _moment(value.astimezone(UTC))
    if isinstance(value, date):
        return value.isoformat()
    return plain(value) if isinstance(value, Decimal) else value


@lru_cache(maxsize=1024)
def _moment(value: datetime) -> str:
    """Kept, since the rows of a write share their moments.

    In UTC, where equal moments are one: two of a zone's own on an autumn night count as equal.
    """
    return value.isoformat(timespec="microseconds")
