"""What a reader looks up: courses that ended lately, and the handoffs of a span of time."""

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlmodel import Session

from app.charting.act_time import CLOCK_SKEW
from app.record.courses import Course, courses_of, patients_by_record_number
from app.record.ids import first_id, last_by
from app.record.tables import CourseEndRow, CourseRow, HandoffRow, StaffRow, table_of

COURSE, END = table_of(CourseRow), table_of(CourseEndRow)
HANDOFF, STAFF = table_of(HandoffRow), table_of(StaffRow)

MOVES = ("offered", "accepted", "taken", "returned", "withdrawn")
"""Steps that a list of a shift's handoffs tells."""


class ShiftStep(Struct, frozen=True):
    """One step of a handoff, whose it was, and the version where one was offered."""

    course_id: str
    kind: str
    at: datetime
    author: str
    version: int | None


def ended_courses(session: Session, unit_id: str, since: datetime) -> tuple[Course, ...]:
    """Courses that ended at `since` or later, the newest end first."""
    # No end is written ahead of its time by more than clocks differ, and keys sort by writing: so
    # only ends written since are read. Whether one of them still holds, the whole course says.
    asked = (
        select(COURSE.c.patient_id)
        .join(END, END.c.course_id == COURSE.c.id)
        .where(END.c.id >= first_id(since - CLOCK_SKEW), END.c.ended_at >= since)
        .distinct()
    )
    patients = session.execute(asked).scalars().all()
    found = [
        course
        for course in courses_of(session, unit_id, patients)
        if course.ended_at is not None and course.ended_at >= since
    ]
    return tuple(sorted(found, key=lambda course: course.ended_at or since, reverse=True))


def courses_by_number(session: Session, unit_id: str, record_number: str) -> tuple[Course, ...]:
    """The unit's courses of whoever has exactly this record number, the newest first."""
    patients = patients_by_record_number(session, record_number)
    return courses_of(session, unit_id, patients)[::-1]


def steps_between(
    session: Session, unit_id: str, from_at: datetime, to_at: datetime
) -> tuple[ShiftStep, ...]:
    """The unit's steps of handoffs written from `from_at` on and before `to_at`, oldest first."""
    # Keys sort by writing, to the millisecond, so that no step of another day is read; the unit is
    # looked at last, or SQLite would begin with every course that it ever had.
    asked = (
        select(
            HANDOFF.c.course_id,
            HANDOFF.c.state,
            HANDOFF.c.recorded_at,
            STAFF.c.display_name,
            HANDOFF.c.version,
            COURSE.c.unit_id,
        )
        .join(STAFF, STAFF.c.id == HANDOFF.c.author_id)
        .join(COURSE, COURSE.c.id == HANDOFF.c.course_id)
        .where(
            HANDOFF.c.id >= first_id(from_at),
            HANDOFF.c.id <= last_by(to_at),
            HANDOFF.c.state.in_(MOVES),
            HANDOFF.c.recorded_at >= from_at,
            HANDOFF.c.recorded_at < to_at,
        )
        .order_by(HANDOFF.c.id)
    )
    return tuple(ShiftStep(*row) for *row, unit in session.execute(asked) if unit == unit_id)
