"""Build the list of courses in no bed: imported ones, and those that ended."""

from collections.abc import Iterable
from datetime import datetime

from msgspec import Struct

from app.pages.frame import Frame
from app.pages.plain_pages import CourseLine, CoursesPage
from app.pages.times import when_in
from app.rules.unit_clock import UnitClock


class ListedCourse(Struct, frozen=True):
    """What the record tells of a course in a list; no name, no number."""

    course_id: str
    started: datetime
    ended: datetime | None
    origin: str
    end: str
    """How it ended, in words; empty for an open one."""
    checks: int
    last_check: datetime | None
    out_since: datetime | None = None
    """Since when the patient of an open one is out of the unit."""
    out_words: str = ""


def courses_page(
    frame: Frame, courses: Iterable[ListedCourse], clock: UnitClock, now: datetime
) -> CoursesPage:
    """One line per course, the latest start first."""
    newest_first = sorted(courses, key=lambda course: course.started, reverse=True)
    lines = tuple(
        CourseLine(
            href=f"/courses/{course.course_id}",
            label=f"Course {number}",
            started=when_in(course.started, now, clock),
            checks=course.checks,
            last_check=when_in(course.last_check, now, clock) if course.last_check else None,
            state=_state(course, now, clock),
        )
        for number, course in enumerate(newest_first, start=1)
    )
    return CoursesPage(
        frame=frame,
        heading="Ended or imported courses",
        lead="Courses of support whose patient is in no bed of this unit now.",
        lines=lines,
        empty_words="Every course of support is in a bed.",
    )


def _state(course: ListedCourse, now: datetime, clock: UnitClock) -> str:
    imported = "imported" if course.origin == "import" else ""
    return " · ".join(filter(None, (imported, _stands(course, now, clock))))


def _stands(course: ListedCourse, now: datetime, clock: UnitClock) -> str:
    """How it ended, or that it is open, with since when its patient is out of the unit."""
    if course.ended is not None:
        return f"{course.end}, {when_in(course.ended, now, clock).text}"
    if course.out_since is None:
        return "open"
    where = f": {course.out_words}" if course.out_words else ""
    return f"open, out of the unit since {when_in(course.out_since, now, clock).text}{where}"
