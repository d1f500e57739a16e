"""Admit a patient: a course of support with body size, airway, orders and bed, in one write."""

from datetime import date, datetime
from decimal import Decimal

from msgspec import Struct, field
from msgspec.structs import asdict

from app.actions.refresh_summary import refresh_summary
from app.charting.airway_told import AirwayTold
from app.charting.facts import Targets
from app.record.beds import free_since, move
from app.record.tables import (
    AirwayRow,
    BodySizeRow,
    CourseRow,
    PatientDetailsRow,
    PatientRow,
    TargetRow,
)
from app.record.writing import Writing


class Admission(Struct, frozen=True):
    """What is known when support starts. Two identifiers; everything else may come later."""

    unit_id: str
    record_number: str
    name: str
    support_started_at: datetime
    birth_date: date | None = None
    age_y: int | None = None
    pbw_sex: str = ""
    height_cm: Decimal | None = None
    height_method: str = ""
    height_source: str = ""
    weight_kg: Decimal | None = None
    code_limits: str = ""
    isolation: str = ""
    allergies: str = ""
    reason_for_support: str = ""
    airway: AirwayTold | None = None
    targets: Targets = field(default_factory=Targets)
    bed_id: str | None = None
    patient_id: str | None = None
    """A patient who was here before and came back; somebody new unless given."""
    origin: str = "bedside"
    source_key: str | None = None


def admit_patient(writing: Writing, admission: Admission) -> str:
    """Write the patient and the course; returns the course's opaque id.

    Raises Conflict when the bed is taken or when the source key was imported before.
    """
    patient_id = admission.patient_id or _new_patient(writing)
    course = CourseRow(
        patient_id=patient_id,
        unit_id=admission.unit_id,
        support_started_at=admission.support_started_at,
        origin=admission.origin,
        source_key=admission.source_key,
    )
    writing.add(_details(patient_id, admission), course)
    writing.add(_body_size(course.id, admission), *_airway(course.id, admission))
    writing.add(*_targets(course.id, admission))
    writing.audit("admit_patient", course_id=course.id, subject=course)
    if admission.bed_id is not None:
        free = free_since(writing.session, admission.bed_id)
        started = admission.support_started_at
        # Support may have begun elsewhere, while somebody else was still in this bed.
        move(writing, {course.id: admission.bed_id}, max(started, free or started))
        refresh_summary(writing, course.id)
    return course.id


def _new_patient(writing: Writing) -> str:
    patient = PatientRow(id=writing.new_id())
    writing.add(patient)
    return patient.id


def _details(patient_id: str, admission: Admission) -> PatientDetailsRow:
    return PatientDetailsRow(
        patient_id=patient_id,
        record_number=admission.record_number,
        name=admission.name,
        birth_date=admission.birth_date,
        age_y=admission.age_y,
        code_limits=admission.code_limits,
        isolation=admission.isolation,
        allergies=admission.allergies,
        reason_for_support=admission.reason_for_support,
    )


def _body_size(course_id: str, admission: Admission) -> BodySizeRow:
    return BodySizeRow(
        course_id=course_id,
        observed_at=admission.support_started_at,
        height_cm=admission.height_cm,
        height_method=admission.height_method,
        pbw_sex=admission.pbw_sex,
        weight_kg=admission.weight_kg,
        source=admission.height_source,
    )


def _airway(course_id: str, admission: Admission) -> tuple[AirwayRow, ...]:
    placed = admission.airway
    if placed is None:
        return ()
    row = AirwayRow(
        course_id=course_id,
        observed_at=admission.support_started_at,
        act="placed",
        **asdict(placed),
    )
    return (row,)


def _targets(course_id: str, admission: Admission) -> tuple[TargetRow, ...]:
    ordered = admission.targets
    if ordered == Targets():
        return ()
    return (TargetRow(course_id=course_id, **asdict(ordered)),)
