"""Who is to have which bed in a shift, and who covers for whom: a plan that moves nothing."""

from datetime import datetime

from sqlmodel import Field

from app.record.tables.row import RecordRow, record_table, supersedes


class AssignmentRow(RecordRow, table=True):
    """One bed of one shift, as a lead planned it; another choice supersedes it (decision 10)."""

    __tablename__ = "assignment"
    __table_args__ = record_table("assignment")
    moment_column = "shift_at"

    supersedes_id: str | None = supersedes("assignment")
    unit_id: str = Field(foreign_key="unit.id", index=True)
    bed_id: str = Field(foreign_key="bed.id")
    shift_at: datetime
    """When the shift begins."""
    staff_id: str | None = Field(default=None, foreign_key="staff.id")
    """NULL where nobody is to have the bed."""


class CoverRow(RecordRow, table=True):
    """Somebody looks after a colleague's beds for a while; an end supersedes what was planned."""

    __tablename__ = "cover"
    __table_args__ = record_table("cover")
    moment_column = "from_at"

    supersedes_id: str | None = supersedes("cover")
    unit_id: str = Field(foreign_key="unit.id", index=True)
    staff_id: str = Field(foreign_key="staff.id")
    for_staff_id: str = Field(foreign_key="staff.id")
    from_at: datetime
    to_at: datetime
    words: str
    bed_id: str | None = None
    """The one bed that it is about; NULL for all beds of the colleague."""
