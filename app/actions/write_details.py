"""Write down anew who a patient is: the newest row holds, and what stood before stays readable."""

from collections.abc import Iterator
from datetime import date

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.refresh_summary import refresh_summary
from app.actions.refused import ActRefused
from app.actions.sent_once import did_before, keep_sent
from app.charting.facts import CourseFacts
from app.record.courses import course_facts, courses_of, patients_by_record_number
from app.record.tables import PatientDetailsRow
from app.record.writing import Writing


class Details(Struct, frozen=True):
    """Who the patient is, every part of it as it is to stand."""

    name: str
    record_number: str
    birth_date: date | None = None
    age_y: int | None = None
    reason_for_support: str = ""
    code_limits: str = ""
    isolation: str = ""
    allergies: str = ""


class DetailsRefused(ActRefused):
    """The patient's details cannot be kept so."""


def write_details(writing: Writing, course_id: str, details: Details, *, save_key: str = "") -> str:
    """Keep the details and bring the board up to them; returns the row's id.

    Raises DetailsRefused, KeyReused for a key that came with other content, and NotFound.
    """
    content = asdict(details)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    for sentence in _refused(writing, facts, details):
        raise DetailsRefused(sentence)
    row = PatientDetailsRow(patient_id=facts.identity.patient_id, **content)
    writing.add_as("write_details", row, course_id=course_id)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def _refused(writing: Writing, facts: CourseFacts, details: Details) -> Iterator[str]:
    if not details.name.strip() or not details.record_number.strip():
        yield "Two identifiers are needed: name and record number."
    if details.birth_date is not None and details.birth_date > facts.support_started_at.date():
        yield "The birth date is after the start of support."
    if details.record_number != facts.identity.record_number:
        yield from _number_taken(writing, facts, details.record_number)


def _number_taken(writing: Writing, facts: CourseFacts, number: str) -> Iterator[str]:
    others = set(patients_by_record_number(writing.session, number))
    others -= {facts.identity.patient_id}
    courses = courses_of(writing.session, facts.unit_id, others)
    if any(course.ended_at is None for course in courses):
        yield "This record number is on another open course of this unit."
