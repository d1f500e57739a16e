"""What one shift says to the next, and who took over what."""

from datetime import datetime
from decimal import Decimal

from sqlmodel import Field

from app.record.exact import ExactDecimal
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
    level: str | None = None
    """Under "concern": low, raised or high, as its author chose."""


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
    version: int | None = None
    """Which offer of this course it is, or belongs to, counted from one."""
    seen: str | None = None
    """JSON list of the keys of what had to be seen first."""
    on_behalf: bool | None = None


class TaskRow(RecordRow, table=True):
    """Something left to do; done, not done and moved are versions that supersede the one before."""

    __tablename__ = "task"
    __table_args__ = record_table("task")

    supersedes_id: str | None = supersedes("task")
    course_id: str = Field(foreign_key="course.id", index=True)
    words: str
    due_at: datetime | None = None
    owner: str = ""
    source: str
    state: str
    reason: str = ""
    rule: str | None = None
    """Which rule made it, so that the same rule finds it again; empty for a person's own."""


class IfThenRow(RecordRow, table=True):
    """What may come and what was agreed; a version that does not stand takes the line back."""

    __tablename__ = "if_then"
    __table_args__ = record_table("if_then")

    supersedes_id: str | None = supersedes("if_then")
    course_id: str = Field(foreign_key="course.id", index=True)
    measure: str
    comparison: str
    value: str = ""
    lasting: str = ""
    action: str = ""
    call: str = ""
    within_min: Decimal | None = Field(default=None, sa_type=ExactDecimal)
    tried: str = ""
    limit_key: str = ""
    stands: bool
