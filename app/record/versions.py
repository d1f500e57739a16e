"""Which row of several holds: a row that supersedes another takes its place in the chain."""

from collections.abc import Iterable, Sequence
from functools import cache
from typing import Any, Protocol, TypeVar

from sqlalchemy import ColumnElement, Row, Select, bindparam, select
from sqlmodel import Session

from app.record.tables import RecordRow, StaffRow, table_of

STAFF = table_of(StaffRow)


class Version(Protocol):
    """Anything with a key and a link to the row it replaced."""

    @property
    def id(self) -> str:
        """The row's key."""

    @property
    def supersedes_id(self) -> str | None:
        """Key of the row that this one replaced."""


V = TypeVar("V", bound=Version)


def chains(rows: Iterable[V]) -> list[tuple[V, ...]]:
    """The rows sorted into chains, oldest version first; chains in the order of their first row.

    A row whose predecessor is not among `rows` starts a chain of its own.
    """
    kept = {row.id: row for row in rows}
    successor = {row.supersedes_id or "": row for row in kept.values()}
    roots = [row for row in kept.values() if row.supersedes_id not in kept]
    return [_follow(root, successor) for root in roots]


def _follow(root: V, successor: dict[str, V]) -> tuple[V, ...]:
    chain = [root]
    while (newer := successor.get(chain[-1].id)) is not None:
        chain.append(newer)
    return tuple(chain)


def newest(rows: Iterable[V]) -> list[V]:
    """The last version of each chain."""
    return [chain[-1] for chain in chains(rows)]


def authored(kind: type[RecordRow], *conditions: ColumnElement[bool]) -> Select[Any]:
    """Rows of one kind with the name of who wrote each as `author`, in the order of writing."""
    table = table_of(kind)
    return (
        select(table, STAFF.c.display_name.label("author"))
        .join(STAFF, STAFF.c.id == table.c.author_id)
        .where(*conditions)
        .order_by(table.c.id)
    )


def of_course(
    session: Session, kind: type[RecordRow], course_id: str, until: str | None = None
) -> Sequence[Row[Any]]:
    """Every row of one kind that belongs to a course, all versions, with its author's name.

    With `until`, only rows whose key is not beyond it: what had been written by then.
    """
    asked = _of_course(kind, bounded=until is not None)
    return session.execute(asked, {"course": course_id, "until": until}).all()


@cache
def _of_course(kind: type[RecordRow], *, bounded: bool) -> Select[Any]:
    """Built once: a page asks a dozen of these, and building costs as much as answering."""
    table = table_of(kind)
    written = [table.c.id <= bindparam("until")] if bounded else []
    return authored(kind, table.c.course_id == bindparam("course"), *written)
