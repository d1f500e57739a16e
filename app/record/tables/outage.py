"""When the unit worked on paper, and when each person last looked at a course."""

from datetime import datetime

from sqlmodel import Field, SQLModel

from app.record.tables.row import RecordRow, record_table, supersedes


class OutageRow(RecordRow, table=True):
    """From when to when the unit could not use the program, as a lead said it."""

    __tablename__ = "outage"
    __table_args__ = record_table("outage")
    moment_column = "from_at"

    supersedes_id: str | None = supersedes("outage")
    unit_id: str = Field(foreign_key="unit.id", index=True)
    from_at: datetime
    to_at: datetime
    words: str


class LastLookRow(SQLModel, table=True):
    """When a person last looked at a course; a look is over when half an hour passed without one.

    The audit knows it too; this row answers without reading it, and no fact rests on it.
    """

    __tablename__ = "last_look"

    staff_id: str = Field(primary_key=True, foreign_key="staff.id")
    course_id: str = Field(primary_key=True, foreign_key="course.id")
    before_at: datetime | None = None
    """The end of the look before this one."""
    last_at: datetime
