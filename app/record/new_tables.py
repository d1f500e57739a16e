"""How a revision makes a table: the columns every record row has, the indexes, the refusals.

Released revisions call these functions, so what they make must stay as it is; a table of another
shape gets a function of its own.
"""

from typing import Any

from alembic import op
from sqlalchemy import Boolean, CheckConstraint, Column, Date, ForeignKey, Integer, text
from sqlalchemy.types import TypeEngine
from sqlmodel.sql.sqltypes import AutoString, UTCDateTime

from app.record.append_only import Key, statements
from app.record.exact import ExactDecimal


def words(name: str, *, null: bool = False, to: str = "", key: bool = False) -> Column[str]:
    """A text column; `to` is the table whose id it names, `key` makes it (part of) the key."""
    links = [ForeignKey(f"{to}.id")] if to else []
    return Column(name, AutoString(), *links, nullable=null, primary_key=key)


def moment(name: str, *, null: bool = False) -> Column[Any]:
    """A moment: aware, in UTC."""
    return _plain(name, UTCDateTime(), null=null)


def day(name: str) -> Column[Any]:
    """A calendar day, which may be unknown."""
    return _plain(name, Date(), null=True)


def number(name: str) -> Column[Any]:
    """An exact decimal, which may be unknown."""
    return _plain(name, ExactDecimal(), null=True)


def whole(name: str, *, null: bool = False, key: bool = False) -> Column[Any]:
    """A whole number; as a key it is given by us, never counted up by the database."""
    return Column(name, Integer(), nullable=null, primary_key=key, autoincrement=False)


def flag(name: str) -> Column[Any]:
    """Yes or no."""
    return _plain(name, Boolean(), null=False)


def _plain(name: str, kind: TypeEngine[Any], *, null: bool) -> Column[Any]:
    return Column(name, kind, nullable=null)


def record_table(
    table: str,
    *columns: Column[Any] | CheckConstraint,
    unique: tuple[Key, ...] = (),
    index: tuple[Key, ...] = (),
) -> None:
    """A table that only grows: the columns of every record row, then these."""
    op.create_table(
        table,
        words("id", key=True),
        moment("recorded_at"),
        words("author_id", to="staff"),
        whole("zone_offset_min", null=True),
        words("supersedes_id", null=True, to=table),
        *columns,
        sqlite_with_rowid=False,
    )
    given = text("supersedes_id IS NOT NULL")
    op.create_index(
        f"uq_{table}_supersedes_id",
        table,
        ["supersedes_id"],
        unique=True,
        sqlite_where=given,
        postgresql_where=given,
    )
    add_unique(table, *unique)
    add_indexes(table, *index)
    only_grows(table, ("id",), ("supersedes_id",), *unique)


def add_unique(table: str, *keys: Key) -> None:
    """Keys that can be taken once."""
    for key in keys:
        op.create_index(f"uq_{table}_{'_'.join(key)}", table, list(key), unique=True)


def add_indexes(table: str, *keys: Key) -> None:
    """Ways to find rows."""
    for key in keys:
        op.create_index(f"ix_{table}_{'_'.join(key)}", table, list(key))


def only_grows(table: str, *keys: Key) -> None:
    """Put the refusals on a table; `keys` are its primary key and every unique one."""
    for statement in statements(op.get_bind().dialect.name, table, sorted(keys)):
        op.execute(statement)
