"""A proposed policy tried on the unit's past days."""

from collections.abc import Iterator
from datetime import timedelta

from sqlmodel import Session

from app.pages.policy_change import Trial
from app.record.beds import occupants, unit_beds
from app.record.courses import course_facts, list_courses
from app.record.judging import judging
from app.rules.policy import Policy
from app.rules.tried import try_on_the_past
from app.web.visit import Visit

MOST_COURSES = 60
"""How many courses are read for a trial: those in beds first, then those that ended lately."""


def trial_of(visit: Visit, proposed: Policy, days: int) -> Trial:
    """What the policy would have raised on the courses of the last days."""
    with visit.reading() as session:
        beds = _beds(session, visit.unit.id)
        in_force = judging(session, visit.unit.id, visit.now).policy
        ids = [*beds, *_ended(session, visit, days)][:MOST_COURSES]
        courses = (course_facts(session, course_id) for course_id in ids)
        return Trial(try_on_the_past(courses, in_force, proposed, visit.now, days), beds, days)


def _beds(session: Session, unit_id: str) -> dict[str, str]:
    """The courses in beds with their beds' codes, by place."""
    taken = occupants(session, unit_id)
    return {taken[bed.id]: bed.code for bed in unit_beds(session, unit_id) if bed.id in taken}


def _ended(session: Session, visit: Visit, days: int) -> Iterator[str]:
    """Courses that ended within the days, and are in no bed any more."""
    since = visit.now - timedelta(days=days)
    for course in list_courses(session, visit.unit.id, "bedside"):
        if course.ended_at is not None and course.ended_at >= since:
            yield course.id
