"""People who can write, and what each may do from when on."""

from datetime import datetime

from sqlmodel import Field

from app.record.tables.row import RecordRow, record_table, supersedes, unique_key


class StaffRow(RecordRow, table=True):
    """A person, once and for ever; the first row of all is its own author."""

    __tablename__ = "staff"
    __table_args__ = record_table("staff", unique_key("staff", "sign_in_name"))

    supersedes_id: str | None = supersedes("staff")
    sign_in_name: str
    display_name: str


class StaffStandingRow(RecordRow, table=True):
    """Role, password and whether the person may sign in; the newest row holds."""

    __tablename__ = "staff_standing"
    __table_args__ = record_table("staff_standing")
    moment_column = "since"

    supersedes_id: str | None = supersedes("staff_standing")
    staff_id: str = Field(foreign_key="staff.id", index=True)
    role: str
    password_hash: str = ""
    """Empty: nobody can sign in as this person."""
    active: bool = True
    since: datetime
