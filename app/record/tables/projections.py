"""What can be worked out again from the record at any time; nothing here is evidence."""

from datetime import datetime

from sqlmodel import Field, SQLModel

from app.record.tables.row import unique_key


class BedSummaryRow(SQLModel, table=True):
    """What the board shows of one open course, in one row."""

    __tablename__ = "bed_summary"

    course_id: str = Field(primary_key=True, foreign_key="course.id")
    unit_id: str = Field(foreign_key="unit.id", index=True)
    version: int
    changed_seq: int
    """Audit sequence of the write that changed the row."""
    cells: str
    """JSON text."""
    next_edge_at: datetime | None = None
    """When something next becomes late or old with time alone."""


class OccupancyRow(SQLModel, table=True):
    """Who is in which bed now: one course to a bed and one bed to a course, by the database."""

    __tablename__ = "occupancy"
    __table_args__ = (unique_key("occupancy", "course_id"),)

    bed_id: str = Field(primary_key=True, foreign_key="bed.id")
    course_id: str = Field(foreign_key="course.id")
