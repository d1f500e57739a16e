"""What the board reads: one lean line per bed in one query, and the cells of those that changed."""

from collections.abc import Collection
from datetime import datetime

from msgspec import Struct
from sqlalchemy import bindparam, delete, insert, select, update
from sqlmodel import Session

from app.record.tables import BedRow, BedSummaryRow, OccupancyRow, table_of
from app.record.writing import Writing

BED = table_of(BedRow)
SUMMARY = table_of(BedSummaryRow)
OCCUPANCY = table_of(OccupancyRow)


class BoardLine(Struct, frozen=True):
    """A bed, who is in it, and which state of their summary; two equal lines show the same.

    An empty bed has no `course_id`, version 0 and was changed by no write. A summary that was
    dropped and made again starts at version 1 anew, so the write's sequence is part of the line.
    """

    bed_code: str
    position: int
    note: str
    course_id: str | None
    version: int
    changed_seq: int


_NEWER = BED.alias("newer")
_LINES = (
    select(
        BED.c.code,
        BED.c.position,
        BED.c.note,
        SUMMARY.c.course_id,
        SUMMARY.c.version,
        SUMMARY.c.changed_seq,
    )
    .outerjoin(OCCUPANCY, OCCUPANCY.c.bed_id == BED.c.bed_id)
    .outerjoin(SUMMARY, SUMMARY.c.course_id == OCCUPANCY.c.course_id)
    .where(
        BED.c.unit_id == bindparam("unit"),
        ~select(_NEWER.c.id).where(_NEWER.c.supersedes_id == BED.c.id).exists(),
        BED.c.in_use | OCCUPANCY.c.course_id.is_not(None),
    )
    .order_by(BED.c.position, BED.c.code)
)
_CELLS = select(SUMMARY.c.course_id, SUMMARY.c.cells).where(
    SUMMARY.c.course_id.in_(bindparam("courses", expanding=True))
)
_REPLACE = (
    update(SUMMARY)
    .where(SUMMARY.c.course_id == bindparam("course"))
    .values(
        version=SUMMARY.c.version + 1,
        **{name: bindparam(name) for name in ("unit_id", "cells", "next_edge_at", "changed_seq")},
    )
)


def board_lines(session: Session, unit_id: str) -> tuple[BoardLine, ...]:
    """The unit's beds by position: those in use, and any other while somebody is in it."""
    rows = session.execute(_LINES, {"unit": unit_id}).all()
    return tuple(
        BoardLine(code, position, note, course_id, version or 0, changed or 0)
        for code, position, note, course_id, version, changed in rows
    )


def cells_of(session: Session, course_ids: Collection[str]) -> dict[str, str]:
    """The stored cells of some courses, in one query; a course without a summary is left out."""
    if not course_ids:
        return {}
    rows = session.execute(_CELLS, {"courses": list(course_ids)})
    return {row.course_id: row.cells for row in rows}


def find_summary(session: Session, course_id: str) -> str | None:
    """The cells stored for a course; None when it has no summary."""
    return session.execute(
        select(SUMMARY.c.cells).where(SUMMARY.c.course_id == course_id)
    ).scalar_one_or_none()


def store_summary(
    writing: Writing, course_id: str, unit_id: str, cells: str, next_edge_at: datetime | None
) -> None:
    """Put the course's summary in place of the one before, stamped with this write."""
    connection = writing.session.connection()
    changed = {
        "unit_id": unit_id,
        "cells": cells,
        "next_edge_at": next_edge_at,
        "changed_seq": writing.sequence,
    }
    replaced = connection.execute(_REPLACE, {"course": course_id, **changed})
    if not replaced.rowcount:
        connection.execute(insert(SUMMARY), {"course_id": course_id, "version": 1, **changed})


def drop_summary(writing: Writing, course_id: str) -> None:
    """Take a course off the board, because it ended."""
    writing.session.execute(delete(SUMMARY).where(SUMMARY.c.course_id == course_id))
