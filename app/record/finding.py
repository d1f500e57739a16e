"""What a reader looks up: courses that ended lately, and the handoffs of a span of time."""

from datetime import datetime

from msgspec import Struct
from sqlalchemy import select
from sqlmodel import Session

from app.record.courses import Course, list_courses, patients_by_record_number
from app.record.tables import CourseRow, HandoffRow, StaffRow, table_of

COURSE, HANDOFF, STAFF = table_of(CourseRow), table_of(HandoffRow), table_of(StaffRow)

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
    found = [
        course
        for course in list_courses(session, unit_id)
        if course.ended_at is not None and course.ended_at >= since
    ]
    return tuple(sorted(found, key=lambda course: course.ended_at or since, reverse=True))


def courses_by_number(session: Session, unit_id: str, record_number: str) -> tuple[Course, ...]:
    """The unit's courses of whoever has exactly this record number, the newest first."""
    patients = set(patients_by_record_number(session, record_number))
    if not patients:
        return ()
    found = [course for course in list_courses(session, unit_id) if course.patient_id in patients]
    return tuple(sorted(found, key=lambda course: course.support_started_at, reverse=True))


def steps_between(
    session: Session, unit_id: str, from_at: datetime, to_at: datetime
) -> tuple[ShiftStep, ...]:
    """The unit's steps of handoffs written from `from_at` on and before `to_at`, oldest first."""
    asked = (
        select(
            HANDOFF.c.course_id,
            HANDOFF.c.state,
            HANDOFF.c.recorded_at,
            STAFF.c.display_name,
            HANDOFF.c.version,
        )
        .join(STAFF, STAFF.c.id == HANDOFF.c.author_id)
        .join(COURSE, COURSE.c.id == HANDOFF.c.course_id)
        .where(
            COURSE.c.unit_id == unit_id,
            HANDOFF.c.state.in_(MOVES),
            HANDOFF.c.recorded_at >= from_at,
            HANDOFF.c.recorded_at < to_at,
        )
        .order_by(HANDOFF.c.id)
    )
    return tuple(ShiftStep(*row) for row in session.execute(asked))
