"""Courses in no bed with how much was charted of each, in two queries however many there are."""

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlmodel import Session

from app.record.courses import Course, list_courses
from app.record.tables import AssessmentRow, table_of

ASSESSMENT = table_of(AssessmentRow)


@dataclass(frozen=True, slots=True)
class Charted:
    """How many rows a course has, and when the newest was observed."""

    course: Course
    checks: int
    last_check: datetime | None


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
    return tuple(Charted(course, *found.get(course.id, (0, None))) for course in housed_in_none)
