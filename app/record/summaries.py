"""What the board reads: one lean row per bed, in one query, however many beds and years."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import delete, func, insert, null, select, union_all, update
from sqlmodel import Session

from app.record.tables import BedRow, BedSummaryRow, OccupancyRow, PolicyRow, UnitRow, table_of
from app.record.writing import Writing

BED = table_of(BedRow)
SUMMARY = table_of(BedSummaryRow)
OCCUPANCY = table_of(OccupancyRow)
POLICY = table_of(PolicyRow)
UNIT = table_of(UnitRow)


@dataclass(frozen=True, slots=True)
class BoardRow:
    """A bed with the summary of who is in it; or a course that is in no bed (`bed_id` None).

    An empty bed has no `course_id`, version 0 and no cells.
    """

    bed_id: str | None
    bed_code: str
    position: int
    course_id: str | None
    version: int
    changed_seq: int
    cells: str
    next_edge_at: datetime | None


@dataclass(frozen=True, slots=True)
class Stamp:
    """Whether a board that somebody holds is still right: equal `mark`, and before the edge."""

    mark: str
    next_edge_at: datetime | None


def board_rows(session: Session, unit_id: str) -> tuple[BoardRow, ...]:
    """The unit's beds in use by position, then courses in no bed; one query."""
    newer = BED.alias("newer")
    replaced = select(newer.c.id).where(newer.c.supersedes_id == BED.c.id).exists()
    summary = (
        SUMMARY.c.course_id,
        SUMMARY.c.version,
        SUMMARY.c.changed_seq,
        SUMMARY.c.cells,
        SUMMARY.c.next_edge_at,
    )
    in_bed = (
        select(BED.c.bed_id, BED.c.code, BED.c.position, *summary)
        .outerjoin(OCCUPANCY, OCCUPANCY.c.bed_id == BED.c.bed_id)
        .outerjoin(SUMMARY, SUMMARY.c.course_id == OCCUPANCY.c.course_id)
        .where(BED.c.unit_id == unit_id, ~replaced)
        .where(BED.c.in_use | OCCUPANCY.c.course_id.is_not(None))
    )
    housed = select(OCCUPANCY.c.course_id)
    in_none = select(null(), null(), null(), *summary).where(
        SUMMARY.c.unit_id == unit_id, SUMMARY.c.course_id.not_in(housed)
    )
    rows = session.execute(union_all(in_bed, in_none)).all()
    found = [
        BoardRow(
            bed_id=bed_id,
            bed_code=code or "",
            position=position or 0,
            course_id=course_id,
            version=version or 0,
            changed_seq=changed or 0,
            cells=cells or "",
            next_edge_at=edge,
        )
        for bed_id, code, position, course_id, version, changed, cells, edge in rows
    ]
    return tuple(sorted(found, key=lambda r: (r.bed_id is None, r.position, r.bed_code)))


def board_stamp(session: Session, unit_id: str) -> Stamp:
    """A mark that changes whenever `board_rows` or the policy would; one query, flat in history."""
    of_unit = SUMMARY.c.unit_id == unit_id
    row = session.execute(
        select(
            func.count(SUMMARY.c.course_id),
            func.sum(SUMMARY.c.changed_seq),
            func.sum(SUMMARY.c.version),
            select(func.max(BED.c.id)).where(BED.c.unit_id == unit_id).scalar_subquery(),
            select(func.max(UNIT.c.id)).where(UNIT.c.unit_id == unit_id).scalar_subquery(),
            select(func.max(POLICY.c.id)).where(POLICY.c.unit_id == unit_id).scalar_subquery(),
            func.min(SUMMARY.c.next_edge_at),
        ).where(of_unit)
    ).one()
    return Stamp("-".join(str(part or 0) for part in row[:-1]), row[-1])


def find_summary(session: Session, course_id: str) -> str | None:
    """The cells stored for a course; None when it has no summary."""
    return session.execute(
        select(SUMMARY.c.cells).where(SUMMARY.c.course_id == course_id)
    ).scalar_one_or_none()


def store_summary(
    writing: Writing, course_id: str, unit_id: str, cells: str, next_edge_at: datetime | None
) -> None:
    """Put the course's summary in place of the one before, stamped with this write."""
    changed = {"cells": cells, "next_edge_at": next_edge_at, "changed_seq": writing.sequence}
    replaced = writing.session.execute(
        update(SUMMARY)
        .where(SUMMARY.c.course_id == course_id)
        .values(version=SUMMARY.c.version + 1, unit_id=unit_id, **changed)
        .returning(SUMMARY.c.version)
    ).all()
    if not replaced:
        first = {"course_id": course_id, "unit_id": unit_id, "version": 1, **changed}
        writing.session.execute(insert(SUMMARY), first)


def drop_summary(writing: Writing, course_id: str) -> None:
    """Take a course off the board, because it ended."""
    writing.session.execute(delete(SUMMARY).where(SUMMARY.c.course_id == course_id))
