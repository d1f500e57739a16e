"""Inhaled treatments: what was ordered, and each time it was given or left out."""

from datetime import datetime
from decimal import Decimal

from sqlmodel import Field

from app.record.exact import ExactDecimal
from app.record.tables.row import RecordRow, record_table, supersedes


class TreatmentRow(RecordRow, table=True):
    """An order; the row that stops it supersedes it and says the same treatment."""

    __tablename__ = "treatment"
    __table_args__ = record_table("treatment")
    moment_column = "ordered_at"

    supersedes_id: str | None = supersedes("treatment")
    course_id: str = Field(foreign_key="course.id", index=True)
    drug: str
    dose: str
    route: str
    interval_h: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    """Hours between two times; NULL for as needed."""
    ordered_by: str
    ordered_at: datetime
    stopped_at: datetime | None = None
    stopped_by: str | None = None
    stopped_why: str | None = None


class TreatmentGivenRow(RecordRow, table=True):
    """One time of a treatment; the author gave it, or says why it was not given."""

    __tablename__ = "treatment_given"
    __table_args__ = record_table("treatment_given")
    moment_column = "given_at"

    supersedes_id: str | None = supersedes("treatment_given")
    course_id: str = Field(foreign_key="course.id", index=True)
    treatment_id: str = Field(foreign_key="treatment.id")
    given_at: datetime
    before: str = ""
    after: str = ""
    response: str = ""
    not_given: str = ""
