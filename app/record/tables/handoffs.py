"""What one shift says to the next, and who took over what."""

from datetime import datetime

from sqlmodel import Field

from app.record.tables.row import RecordRow, record_table, supersedes


class HandoffNoteRow(RecordRow, table=True):
    """A person's own words under one heading of the handoff page."""

    __tablename__ = "handoff_note"
    __table_args__ = record_table("handoff_note")
    moment_column = "observed_at"

    supersedes_id: str | None = supersedes("handoff_note")
    course_id: str = Field(foreign_key="course.id", index=True)
    heading: str
    words: str
    observed_at: datetime


class HandoffRow(RecordRow, table=True):
    """One step of a handoff: offered, accepted, returned or taken back (decision 10).

    Each step is a row that supersedes the step before. An offer freezes what was on the page.
    """

    __tablename__ = "handoff"
    __table_args__ = record_table("handoff")

    supersedes_id: str | None = supersedes("handoff")
    course_id: str = Field(foreign_key="course.id", index=True)
    state: str
    from_staff_id: str | None = Field(default=None, foreign_key="staff.id")
    to_staff_id: str | None = Field(default=None, foreign_key="staff.id")
    words: str = ""
    snapshot: str | None = None
    snapshot_sha256: str | None = None
