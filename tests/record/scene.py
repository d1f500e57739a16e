"""A unit with three beds, one therapist and one course, written through the record's own door."""

from datetime import datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from msgspec import Struct

from app.record.beds import move
from app.record.database import Database
from app.record.people import set_up_person
from app.record.summaries import store_summary
from app.record.tables import (
    AssessmentRow,
    BedRow,
    CourseRow,
    PatientDetailsRow,
    PatientRow,
    ReadingRow,
    RecordRow,
    StaffRow,
    StaffStandingRow,
    UnitRow,
)
from tests.clock import Clock

ZONE = ZoneInfo("Europe/Berlin")


class Scene(Struct):
    """Ids of what was set up, and the few writes that most tests begin with."""

    database: Database
    clock: Clock
    therapist: str
    unit: str
    beds: tuple[str, ...]
    course: str = ""

    def writing(self, zone=ZONE):
        return self.database.writing(self.clock, self.therapist, zone=zone, workstation="desk")

    def write(self, *rows: RecordRow) -> None:
        with self.writing() as writing:
            writing.add(*rows)
            writing.audit("write")

    def admit(self, bed: str | None, name: str = "Ada") -> str:
        with self.writing() as writing:
            patient = PatientRow()
            writing.add(patient)
            course = CourseRow(
                patient_id=patient.id, unit_id=self.unit, support_started_at=self.clock()
            )
            details = PatientDetailsRow(patient_id=patient.id, name=name, record_number="R1")
            writing.add(details, course)
            move(writing, {course.id: bed}, self.clock())
            store_summary(writing, course.id, self.unit, "{}", None)
            writing.audit("admit", course_id=course.id, subject=course)
        return course.id

    def chart(self, at: datetime | None = None, *, signed=True, course="", **numbers) -> str:
        moment = at or self.clock()
        course = course or self.course
        with self.writing() as writing:
            assessment = AssessmentRow(
                course_id=course, kind="full", observed_at=moment, mode_family="vc", signed=signed
            )
            writing.add(assessment)
            readings = [
                reading(assessment.id, course, field, moment, number=Decimal(number))
                for field, number in numbers.items()
            ]
            writing.add(*readings)
            writing.audit("chart", course_id=course, subject=assessment)
        return assessment.id


def reading(assessment: str, course: str, field: str, at: datetime, **more) -> ReadingRow:
    """A measured reading, unless told otherwise."""
    return ReadingRow(
        assessment_id=assessment,
        course_id=course,
        field=field,
        observed_at=at,
        **{"state": "measured", **more},
    )


def set_scene(database: Database, clock: Clock, beds: int = 3) -> Scene:
    """A therapist who may chart, and a unit with beds "1", "2" ...; the first is taken."""
    with database.writing(clock) as writing:
        writing.author_id = set_up_person(writing)
        therapist = StaffRow(sign_in_name="mira", display_name="Mira Holt")
        unit = writing.new_id()
        writing.add(
            therapist, UnitRow(id=unit, unit_id=unit, code="A", name="Unit A", zone=ZONE.key)
        )
        writing.add(
            StaffStandingRow(staff_id=therapist.id, role="therapist", since=writing.recorded_at)
        )
        keys = tuple(writing.new_id() for _ in range(beds))
        rows = [
            BedRow(id=key, bed_id=key, unit_id=unit, code=str(place), position=place)
            for place, key in enumerate(keys, start=1)
        ]
        writing.add(*rows)
        writing.audit("set_up")
    scene = Scene(database, clock, therapist.id, unit, keys)
    scene.course = scene.admit(keys[0])
    return scene
