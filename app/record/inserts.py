"""Rows into a table by the driver's own `executemany`, prepared once for each table and engine.

The statement and the form of each value are SQLAlchemy's, so a row reads back as it would have by
any other way; what is saved is the work that is the same for every row.
"""

from collections.abc import Callable, Mapping, Sequence
from datetime import UTC
from functools import cache, lru_cache
from operator import itemgetter
from typing import Any

from msgspec import Struct
from sqlalchemy import Column, Connection, Dialect, Table, insert, make_url
from sqlmodel.sql.sqltypes import UTCDateTime

from app.record.canonical import Stored

DRIVERS = {"sqlite": "sqlite+pysqlite://", "postgresql": "postgresql+psycopg://"}

Bound = Callable[[Any], Any]


class Prepared(Struct, frozen=True):
    """An INSERT of whole rows: its text, and how a row goes to the driver.

    `in_order` puts a row's columns in the order of the statement. `as_driver` holds only the
    columns whose values the driver would not take as they are.
    """

    text: str
    in_order: Callable[[Mapping[str, Stored]], tuple[Stored, ...]]
    as_driver: Mapping[str, Bound]
    by_position: bool

    def parameters(self, row: Mapping[str, Stored]) -> Any:  # noqa: ANN401 - the driver's own type
        """One row as the driver wants it: by position or by name."""
        values = dict(row)
        for name, bound in self.as_driver.items():
            values[name] = bound(values[name])
        return self.in_order(values) if self.by_position else values


@cache
def prepared(table: Table, dialect_name: str) -> Prepared:
    """The statement for one table on one engine."""
    dialect = make_url(DRIVERS[dialect_name]).get_dialect()()
    compiled = insert(table).compile(dialect=dialect)
    bounds = {column.name: _bound(column, dialect) for column in table.columns}
    return Prepared(
        text=str(compiled),
        in_order=itemgetter(*bounds),
        as_driver={name: bound for name, bound in bounds.items() if bound is not None},
        by_position=dialect.positional,
    )


def _bound(column: Column[Any], dialect: Dialect) -> Bound | None:
    """What a column's value goes through; a moment's result is kept, since rows share theirs."""
    bound = column.type.dialect_impl(dialect).bind_processor(dialect)
    if bound is None or not isinstance(column.type, UTCDateTime):
        return bound
    kept = lru_cache(maxsize=256)(bound)
    return lambda moment: None if moment is None else kept(moment.astimezone(UTC))


def insert_rows(connection: Connection, table: Table, rows: Sequence[Mapping[str, Stored]]) -> None:
    """Add rows that each hold a value, or None, for every column of the table."""
    statement = prepared(table, connection.dialect.name)
    connection.exec_driver_sql(statement.text, [statement.parameters(row) for row in rows])
