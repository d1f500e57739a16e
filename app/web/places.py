"""The beds of the unit as the form of a move offers them."""

from sqlmodel import Session

from app.pages.identity import identity_question
from app.pages.place import Beds, TakenBed
from app.record.beds import occupants, unit_beds
from app.record.courses import find_course, identity
from app.web.courses import OpenCourse
from app.web.visit import Visit


def beds_of(visit: Visit, course: OpenCourse) -> Beds:
    """Empty beds, and who is in the others; whose chart those are is asked of whoever changes."""
    with visit.reading() as session:
        there = occupants(session, visit.unit.id)
        beds = [bed for bed in unit_beds(session, visit.unit.id) if bed.in_use]
        taken = tuple(
            TakenBed(bed.code, there[bed.id], _name(session, there[bed.id]))
            for bed in beds
            if bed.id in there and there[bed.id] != course.facts.course_id
        )
    digits = visit.site.settings.identity_digits
    question = identity_question("", digits).label if digits else ""
    free = tuple(bed.code for bed in beds if bed.id not in there)
    return Beds(free, taken, question)


def _name(session: Session, course_id: str) -> str:
    return identity(session, find_course(session, course_id).patient_id).name
