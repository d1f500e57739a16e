"""The beds of a unit, who is in which, and moves, which happen together or not at all."""

from collections.abc import Collection, Iterable, Mapping
from datetime import datetime
from typing import Any

from msgspec import Struct
from sqlalchemy import Row, bindparam, delete, insert, select, update
from sqlmodel import Session

from app.record.errors import NotFound
from app.record.tables import (
    BedRow,
    BedStayRow,
    BedSummaryRow,
    CourseEndRow,
    OccupancyRow,
    table_of,
)
from app.record.versions import newest
from app.record.writing import Writing

BED = table_of(BedRow)
STAY = table_of(BedStayRow)
END = table_of(CourseEndRow)
OCCUPANCY = table_of(OccupancyRow)
SUMMARY = table_of(BedSummaryRow)


class Bed(Struct, frozen=True):
    """A bed as it is described now; `version_id` is the row that the next change supersedes."""

    id: str
    version_id: str
    unit_id: str
    code: str
    position: int
    note: str
    in_use: bool


_OF_UNIT = select(BED).where(BED.c.unit_id == bindparam("unit")).order_by(BED.c.id)
_CODES = (
    select(BED.c.bed_id, BED.c.code)
    .where(BED.c.bed_id.in_(bindparam("beds", expanding=True)))
    .order_by(BED.c.id)
)


def bed_codes(session: Session, bed_ids: Collection[str]) -> dict[str, str]:
    """The codes that these beds have now."""
    rows = session.execute(_CODES, {"beds": list(bed_ids)})
    return {row.bed_id: row.code for row in rows}  # of each bed's versions the newest comes last


def unit_beds(session: Session, unit_id: str) -> tuple[Bed, ...]:
    """Every bed of the unit by position, those out of use included."""
    beds = [_bed(row) for row in newest(session.execute(_OF_UNIT, {"unit": unit_id}).all())]
    return tuple(sorted(beds, key=lambda bed: (bed.position, bed.code)))


def find_bed(session: Session, unit_id: str, code: str) -> Bed:
    """The bed in use with that code. Raises NotFound."""
    for bed in unit_beds(session, unit_id):
        if bed.in_use and bed.code == code:
            return bed
    raise NotFound("bed", code)


def occupants(session: Session, unit_id: str) -> Mapping[str, str]:
    """Who is where now: the course in each taken bed, by bed id."""
    of_unit = select(BED.c.bed_id).where(BED.c.unit_id == unit_id)
    taken = select(OCCUPANCY.c.bed_id, OCCUPANCY.c.course_id)
    rows = session.execute(taken.where(OCCUPANCY.c.bed_id.in_(of_unit))).all()
    return {row.bed_id: row.course_id for row in rows}


_BED_OF = select(OCCUPANCY.c.bed_id).where(OCCUPANCY.c.course_id == bindparam("course"))


def bed_id_of(session: Session, course_id: str) -> str | None:
    """The bed that the course's patient is in now; None when in none."""
    return session.execute(_BED_OF, {"course": course_id}).scalar_one_or_none()


def move(
    writing: Writing, beds: Mapping[str, str | None], from_at: datetime, words: str = ""
) -> None:
    """Write where each course's patient is from then on; None is in no bed of this unit.

    All the moves of one call happen at once, so two patients can change places. Raises Conflict
    when a bed would be taken twice.
    """
    stays = [
        BedStayRow(course_id=course, bed_id=bed, from_at=from_at, words=words or None)
        for course, bed in beds.items()
    ]
    writing.add(*stays)
    settle(writing, beds)


class Stay(Struct, frozen=True):
    """One span in one place; `until` is None while it lasts."""

    course_id: str
    bed_id: str | None
    from_at: datetime
    until: datetime | None


def stays_of(session: Session, course_ids: Iterable[str]) -> tuple[Stay, ...]:
    """Every span of these courses, each course's in the order of time; an end closes the last."""
    courses = list(course_ids)
    stays = select(STAY).where(STAY.c.course_id.in_(courses)).order_by(STAY.c.id)
    ends = select(END).where(END.c.course_id.in_(courses)).order_by(END.c.id)
    rows = newest(session.execute(stays).all())
    ended = {end.course_id: end.ended_at for end in newest(session.execute(ends).all())}
    by_course: dict[str, list[Row[Any]]] = {course: [] for course in courses}
    for row in sorted(rows, key=lambda row: (row.from_at, row.id)):
        by_course[row.course_id].append(row)
    return tuple(
        Stay(course, row.bed_id, row.from_at, after)
        for course, found in by_course.items()
        for row, after in zip(
            found, (*(later.from_at for later in found[1:]), ended.get(course)), strict=False
        )
    )


def free_since(session: Session, bed_id: str, but: str = "") -> datetime | None:
    """When the last patient who was in the bed, this one left aside, left it; None without any."""
    there = select(STAY.c.course_id).where(STAY.c.bed_id == bed_id, STAY.c.course_id != but)
    courses = session.execute(there.distinct()).scalars().all()
    left = (stay.until for stay in stays_of(session, courses) if stay.bed_id == bed_id)
    return max((moment for moment in left if moment is not None), default=None)


def settle(writing: Writing, course_ids: Iterable[str]) -> None:
    """Bring the occupancy of these courses in line with the record (after a move or an end)."""
    courses = list(course_ids)
    session = writing.session
    session.execute(delete(OCCUPANCY).where(OCCUPANCY.c.course_id.in_(courses)))
    taken = occupancy_by_record(session, courses)
    if taken:
        rows = [{"bed_id": bed, "course_id": course} for course, bed in taken.items()]
        session.execute(insert(OCCUPANCY), rows)
    # A board that somebody holds is out of date now, even if no cell of a summary changes.
    session.execute(
        update(SUMMARY)
        .where(SUMMARY.c.course_id.in_(courses))
        .values(version=SUMMARY.c.version + 1, changed_seq=writing.sequence)
    )


def occupancy_by_record(
    session: Session, course_ids: Iterable[str] | None = None
) -> dict[str, str]:
    """The bed of each open course, worked out from stays and ends; for all courses unless given.

    The stay with the latest start holds; between equal starts the one written last.
    """
    stays, ends = select(STAY).order_by(STAY.c.id), select(END).order_by(END.c.id)
    if course_ids is not None:
        courses = list(course_ids)
        stays = stays.where(STAY.c.course_id.in_(courses))
        ends = ends.where(END.c.course_id.in_(courses))
    ended = {end.course_id for end in newest(session.execute(ends).all()) if end.ended_at}
    current: dict[str, str | None] = {}
    rows = newest(session.execute(stays).all())
    for stay in sorted(rows, key=lambda row: (row.from_at, row.id)):
        current[stay.course_id] = stay.bed_id
    return {course: bed for course, bed in current.items() if bed and course not in ended}


def _bed(row: Row[Any]) -> Bed:
    return Bed(
        id=row.bed_id,
        version_id=row.id,
        unit_id=row.unit_id,
        code=row.code,
        position=row.position,
        note=row.note,
        in_use=row.in_use,
    )
