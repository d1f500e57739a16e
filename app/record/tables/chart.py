"""What was charted: assessments, their readings, strikes, signatures, and events."""

from datetime import datetime
from decimal import Decimal

from sqlalchemy import CheckConstraint, Index, text
from sqlmodel import Field

from app.record.exact import ExactDecimal
from app.record.tables.row import RecordRow, record_table, supersedes


class AssessmentRow(RecordRow, table=True):
    """One row of the chart. Readings, strikes and signatures hang on the first version's id."""

    __tablename__ = "assessment"
    __table_args__ = record_table(
        "assessment",
        Index(None, "course_id", "observed_at"),
        Index(
            "ix_assessment_unsigned",
            "course_id",
            sqlite_where=text("signed = 0"),
            postgresql_where=text("NOT signed"),
        ),
    )
    moment_column = "observed_at"

    supersedes_id: str | None = supersedes("assessment")
    course_id: str = Field(foreign_key="course.id")
    kind: str
    observed_at: datetime
    mode_family: str
    source: str = "bedside"
    signed: bool = True
    """False for a student's draft, until a co-signature stands beside it."""
    paper_by: str | None = None
    """Who wrote it on paper, where somebody typed it in from there later."""


class AssessmentStrikeRow(RecordRow, table=True):
    """Why an assessment no longer counts. A superseding row with no reason lets it stand again."""

    __tablename__ = "assessment_strike"
    __table_args__ = record_table("assessment_strike")

    supersedes_id: str | None = supersedes("assessment_strike")
    course_id: str = Field(foreign_key="course.id", index=True)
    assessment_id: str = Field(foreign_key="assessment.id")
    reason: str


class CoSignatureRow(RecordRow, table=True):
    """A supervisor's name under a student's assessment."""

    __tablename__ = "co_signature"
    __table_args__ = record_table("co_signature")

    supersedes_id: str | None = supersedes("co_signature")
    course_id: str = Field(foreign_key="course.id", index=True)
    assessment_id: str = Field(foreign_key="assessment.id")
    words: str = ""


class ReadingRow(RecordRow, table=True):
    """One field at one moment; a correction supersedes it within the same assessment."""

    __tablename__ = "reading"
    __table_args__ = record_table(
        "reading",
        Index(None, "course_id", "observed_at"),
        CheckConstraint(
            "state <> 'not_measured' OR (number IS NULL AND word = '')",
            name="not_measured_has_no_value",
        ),
    )
    moment_column = "observed_at"

    supersedes_id: str | None = supersedes("reading")
    assessment_id: str = Field(foreign_key="assessment.id", index=True)
    course_id: str = Field(foreign_key="course.id")
    field: str
    observed_at: datetime
    state: str
    number: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    word: str = ""
    raw: str = ""
    unit_typed: str = ""
    reason: str = ""
    marks: str = ""
    """Codes of marks, separated by spaces."""
    question: str = ""
    why: str | None = None
    """Why this version took the place of the one before."""


class EventRow(RecordRow, table=True):
    """A thing that happened, or a state that began. A version with `struck` says it did not."""

    __tablename__ = "event"
    __table_args__ = record_table("event")
    moment_column = "observed_at"

    supersedes_id: str | None = supersedes("event")
    course_id: str = Field(foreign_key="course.id", index=True)
    kind: str
    observed_at: datetime
    words: str = ""
    struck: str | None = None
    """Why the event does not count; what it said stands in the version before."""
    why: str | None = None
    """Why this version took the place of one that was wrong."""


class EventEndRow(RecordRow, table=True):
    """When a state that an event began came to its end. `struck` and `why` are as of an event."""

    __tablename__ = "event_end"
    __table_args__ = record_table("event_end")
    moment_column = "ended_at"

    supersedes_id: str | None = supersedes("event_end")
    course_id: str = Field(foreign_key="course.id", index=True)
    event_id: str = Field(foreign_key="event.id")
    ended_at: datetime
    words: str = ""
    struck: str | None = None
    why: str | None = None


class EventDetailRow(RecordRow, table=True):
    """What somebody said of an event at one time; what is known later comes in another row."""

    __tablename__ = "event_detail"
    __table_args__ = record_table("event_detail")
    moment_column = "observed_at"

    supersedes_id: str | None = supersedes("event_detail")
    course_id: str = Field(foreign_key="course.id", index=True)
    event_id: str = Field(foreign_key="event.id")
    observed_at: datetime
    details: str
    """A JSON object: codes of `charting.fields.episodes`, and what was said under each."""
