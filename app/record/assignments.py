"""The plan of a shift as it was written: who is to have which bed, and who covers for whom."""

from collections.abc import Collection, Mapping
from datetime import datetime
from typing import Any

from sqlalchemy import Row, bindparam, func, select
from sqlmodel import Session

from app.charting.assigning import Assigned, Cover
from app.record.beds import unit_beds
from app.record.tables import AssignmentRow, CoverRow, EventRow, StaffRow, table_of
from app.record.versions import authored, chains, newest

ASSIGNMENT = table_of(AssignmentRow)
COVER = table_of(CoverRow)
EVENT = table_of(EventRow)
STAFF = table_of(StaffRow)

_OF_SHIFT = authored(
    AssignmentRow,
    ASSIGNMENT.c.unit_id == bindparam("unit"),
    ASSIGNMENT.c.shift_at == bindparam("shift"),
)
_COVERS = authored(CoverRow, COVER.c.unit_id == bindparam("unit"))
_NEWER = EVENT.alias("newer")


def assignments(session: Session, unit_id: str, shift_at: datetime) -> dict[str, Assigned]:
    """What was chosen last for each bed of the shift that begins then, by the bed's id."""
    return {bed: versions[-1] for bed, versions in choices(session, unit_id, shift_at).items()}


def choices(session: Session, unit_id: str, shift_at: datetime) -> dict[str, tuple[Assigned, ...]]:
    """Every choice for each bed of that shift, the oldest first."""
    rows = session.execute(_OF_SHIFT, {"unit": unit_id, "shift": shift_at}).all()
    names = _names(session, {row.staff_id for row in rows if row.staff_id})
    found = [tuple(_assigned(row, names) for row in chain) for chain in chains(rows)]
    return {chain[0].bed_id: chain for chain in found}


def assigned_to(session: Session, unit_id: str, shift_at: datetime, bed: str) -> Assigned | None:
    """Who is to have the bed of that code in that shift; None where nobody is."""
    chosen = assignments(session, unit_id, shift_at)
    if not chosen:
        return None
    ids = (each.id for each in unit_beds(session, unit_id) if each.code == bed)
    found = chosen.get(next(ids, ""))
    return found if found is not None and found.staff_id else None


def covers(session: Session, unit_id: str, after: datetime) -> tuple[Cover, ...]:
    """Every cover that ends after that moment, by its beginning, as it was said last."""
    rows = newest(session.execute(_COVERS, {"unit": unit_id}).all())
    kept = [row for row in rows if row.to_at > after]
    names = _names(session, {key for row in kept for key in (row.staff_id, row.for_staff_id)})
    beds = _codes(session, unit_id) if any(row.bed_id for row in kept) else {}
    found = (_cover(row, names, beds) for row in kept)
    return tuple(sorted(found, key=lambda cover: (cover.from_at, cover.id)))


def events_since(
    session: Session, course_ids: Collection[str], since: datetime
) -> Mapping[str, int]:
    """How many events began at each course since then; a course without any is left out."""
    counted = (
        select(EVENT.c.course_id, func.count().label("number"))
        .where(
            EVENT.c.course_id.in_(course_ids),
            EVENT.c.observed_at >= since,
            EVENT.c.struck.is_(None),
            ~select(_NEWER.c.id).where(_NEWER.c.supersedes_id == EVENT.c.id).exists(),
        )
        .group_by(EVENT.c.course_id)
    )
    return {row.course_id: row.number for row in session.execute(counted)}


def _names(session: Session, ids: set[str]) -> dict[str, str]:
    if not ids:
        return {}
    asked = select(STAFF.c.id, STAFF.c.display_name).where(STAFF.c.id.in_(ids))
    return {row.id: row.display_name for row in session.execute(asked)}


def _codes(session: Session, unit_id: str) -> dict[str, str]:
    return {bed.id: bed.code for bed in unit_beds(session, unit_id)}


def _assigned(row: Row[Any], names: Mapping[str, str]) -> Assigned:
    return Assigned(
        id=row.id,
        bed_id=row.bed_id,
        shift_at=row.shift_at,
        staff_id=row.staff_id or "",
        name=names.get(row.staff_id, ""),
        author=row.author,
        at=row.recorded_at,
    )


def _cover(row: Row[Any], names: Mapping[str, str], beds: Mapping[str, str]) -> Cover:
    return Cover(
        id=row.id,
        staff_id=row.staff_id,
        name=names[row.staff_id],
        for_id=row.for_staff_id,
        for_name=names[row.for_staff_id],
        from_at=row.from_at,
        to_at=row.to_at,
        words=row.words,
        author=row.author,
        bed_id=row.bed_id or "",
        bed=beds.get(row.bed_id, ""),
    )
