"""Patients, their courses of support, and where and how each course stands."""

from datetime import date, datetime
from decimal import Decimal

from sqlmodel import Field

from app.record.exact import ExactDecimal
from app.record.tables.row import RecordRow, record_table, supersedes, unique_key


class PatientRow(RecordRow, table=True):
    """A person who is a patient: only the anchor, all that is known stands in the details."""

    __tablename__ = "patient"
    __table_args__ = record_table("patient")

    supersedes_id: str | None = supersedes("patient")


class PatientDetailsRow(RecordRow, table=True):
    """Who the patient is, as known from then on; the newest row holds."""

    __tablename__ = "patient_details"
    __table_args__ = record_table("patient_details")

    supersedes_id: str | None = supersedes("patient_details")
    patient_id: str = Field(foreign_key="patient.id", index=True)
    record_number: str = Field(default="", index=True)
    name: str = ""
    birth_date: date | None = None
    age_y: int | None = None
    code_limits: str = ""
    isolation: str = ""
    allergies: str = ""
    reason_for_support: str = ""


class CourseRow(RecordRow, table=True):
    """One course of support of one patient in one unit. Its id stands in addresses."""

    __tablename__ = "course"
    __table_args__ = record_table("course", unique_key("course", "source_key"))
    moment_column = "support_started_at"
    random_id = True

    supersedes_id: str | None = supersedes("course")
    patient_id: str = Field(foreign_key="patient.id", index=True)
    unit_id: str = Field(foreign_key="unit.id", index=True)
    support_started_at: datetime
    origin: str = "bedside"
    """bedside or import."""
    source_key: str | None = None
    """Where an imported course came from ("stay:2"), so that it is imported once."""


class CourseEndRow(RecordRow, table=True):
    """How and when a course ended. A superseding row without `ended_at` takes the end back."""

    __tablename__ = "course_end"
    __table_args__ = record_table("course_end")
    moment_column = "ended_at"

    supersedes_id: str | None = supersedes("course_end")
    course_id: str = Field(foreign_key="course.id", index=True)
    ended_at: datetime | None = None
    kind: str = ""
    words: str = ""


class BedStayRow(RecordRow, table=True):
    """From `from_at` on the patient is in that bed, or in none of this unit's."""

    __tablename__ = "bed_stay"
    __table_args__ = record_table("bed_stay")
    moment_column = "from_at"

    supersedes_id: str | None = supersedes("bed_stay")
    course_id: str = Field(foreign_key="course.id", index=True)
    bed_id: str | None = Field(default=None, foreign_key="bed.id")
    from_at: datetime
    words: str | None = None
    """Where to or why, in the words of whoever moved the patient."""


class BodySizeRow(RecordRow, table=True):
    """Height with its method, the sex used in the weight formula, and weight."""

    __tablename__ = "body_size"
    __table_args__ = record_table("body_size")
    moment_column = "observed_at"

    supersedes_id: str | None = supersedes("body_size")
    course_id: str = Field(foreign_key="course.id", index=True)
    observed_at: datetime
    height_cm: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    height_method: str = ""
    pbw_sex: str = ""
    weight_kg: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    source: str = ""
    why: str | None = None
    """Why this version took the place of the one before."""


class AirwayRow(RecordRow, table=True):
    """The airway in place from then on; `act` says what made it so."""

    __tablename__ = "airway"
    __table_args__ = record_table("airway")
    moment_column = "observed_at"

    supersedes_id: str | None = supersedes("airway")
    course_id: str = Field(foreign_key="course.id", index=True)
    observed_at: datetime
    act: str
    category: str
    size_mm: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    depth_cm: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    depth_reference: str = ""
    side: str = ""
    difficult: str = ""
    words: str = ""
    tube_type: str | None = None
    confirmed_by: str | None = None
    confirmed_how: str | None = None
    """Codes of the ways, separated by spaces."""
    stoma_on: date | None = None
    inner_cannula: str | None = None
    spare_same: str | None = None
    spare_smaller: str | None = None
    may_change: str | None = None
    """Who may change a tracheostomy tube."""
    why: str | None = None
    """Why the airway was changed, in the words of whoever did it."""
    struck: str | None = None
    """Why the row does not count: it was charted by mistake."""


class OwnRangeRow(RecordRow, table=True):
    """Another range than the unit's for one limit of a patient; one without ends ends it.

    The newest row of a limit holds, from when it was written until `until` or the course's end.
    """

    __tablename__ = "own_range"
    __table_args__ = record_table("own_range")

    supersedes_id: str | None = supersedes("own_range")
    course_id: str = Field(foreign_key="course.id", index=True)
    limit_key: str
    under: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    over: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    until: datetime | None = None
    ordered_by: str
    ordered_at: datetime
    why: str


class TargetRow(RecordRow, table=True):
    """What was ordered for this patient; the newest row holds (decision 27)."""

    __tablename__ = "target"
    __table_args__ = record_table("target")

    supersedes_id: str | None = supersedes("target")
    course_id: str = Field(foreign_key="course.id", index=True)
    spo2_low: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    spo2_high: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    tidal_volume_ml_kg: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    ordered_by: str = ""
    ordered_at: datetime | None = None
    pao2_low: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    pao2_high: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    ph_low: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    ph_high: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    paco2_low: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    paco2_high: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    why: str | None = None
    """Why it was ordered anew, or ended."""
