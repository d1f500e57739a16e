"""Which machine is at which patient, by what was charted last."""

from sqlalchemy import func, select
from sqlmodel import Session

from app.record.courses import course_facts
from app.record.tables import CourseRow, OccupancyRow, ReadingRow, table_of

READING, COURSE, OCCUPANCY = table_of(ReadingRow), table_of(CourseRow), table_of(OccupancyRow)
DEVICE = "device_id"


def courses_with_device(session: Session, unit_id: str, device: str) -> tuple[str, ...]:
    """The courses in a bed of the unit at which this machine was charted last, capitals aside."""
    named = (
        select(READING.c.course_id)
        .join(COURSE, COURSE.c.id == READING.c.course_id)
        .join(OCCUPANCY, OCCUPANCY.c.course_id == READING.c.course_id)
        .where(COURSE.c.unit_id == unit_id, READING.c.field == DEVICE)
        .where(func.lower(READING.c.word) == device.strip().lower())
        .distinct()
    )
    found = session.execute(named.order_by(READING.c.course_id)).scalars().all()
    return tuple(key for key in found if _is_last_there(session, key, device))


def _is_last_there(session: Session, course_id: str, device: str) -> bool:
    last = course_facts(session, course_id).latest_readings().get(DEVICE)
    return last is not None and last.word.lower() == device.strip().lower()
