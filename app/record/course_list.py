"""Courses in no bed with how much was charted of each, in a few queries however many there are."""

from datetime import datetime

from msgspec import Struct
from sqlalchemy import func, select
from sqlmodel import Session

from app.record.courses import Course, list_courses
from app.record.tables import AssessmentRow, BedStayRow, table_of

ASSESSMENT, STAY = table_of(AssessmentRow), table_of(BedStayRow)


class Charted(Struct, frozen=True):
    """How many rows a course has, and when the newest was observed."""

    course: Course
    checks: int
    last_check: datetime | None
    out_since: datetime | None = None
    """Since when the patient is out of the unit; None where they never were in a bed of it."""
    out_words: str = ""


def courses_in_no_bed(session: Session, unit_id: str) -> tuple[Charted, ...]:
    """Imported and ended courses of a unit, and whoever is in none of its beds."""
    housed_in_none = [course for course in list_courses(session, unit_id) if course.bed_id is None]
    of_unit = [course.id for course in housed_in_none]
    counted = session.execute(
        select(
            ASSESSMENT.c.course_id,
            func.count(ASSESSMENT.c.id),
            func.max(ASSESSMENT.c.observed_at),
        )
        .where(ASSESSMENT.c.supersedes_id.is_(None), ASSESSMENT.c.course_id.in_(of_unit))
        .group_by(ASSESSMENT.c.course_id)
    )
    found = {course_id: (checks, last) for course_id, checks, last in counted}
    out = _out(session, of_unit)
    return tuple(
        Charted(course, *found.get(course.id, (0, None)), *out.get(course.id, (None, "")))
        for course in housed_in_none
    )


def _out(session: Session, course_ids: list[str]) -> dict[str, tuple[datetime, str]]:
    """When each was moved last, and in which words."""
    stays = select(STAY.c.course_id, STAY.c.from_at, STAY.c.words)
    rows = session.execute(
        stays.where(STAY.c.course_id.in_(course_ids)).order_by(STAY.c.from_at, STAY.c.id)
    )
    return {course_id: (from_at, words or "") for course_id, from_at, words in rows}
