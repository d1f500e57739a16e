"""The chain: one line or more per write, each holding the hash of the line before."""

from datetime import datetime

from sqlmodel import Field, SQLModel

from app.record.tables.row import unique_key


class AuditLineRow(SQLModel, table=True):
    """Who did what when. The first line of a write carries the hash of every row it added.

    `rows_sha256` is JSON text: a list of [table, id, sha256]. `detail` is JSON text without
    anything that names a patient. `staff_id` is NULL only for an attempt by nobody we know.
    """

    __tablename__ = "audit_line"
    __table_args__ = (
        unique_key("audit_line", "previous_hash"),
        unique_key("audit_line", "hash"),
        {"sqlite_with_rowid": False},
    )

    seq: int = Field(primary_key=True, sa_column_kwargs={"autoincrement": False})
    at: datetime
    staff_id: str | None = Field(default=None, foreign_key="staff.id", index=True)
    act: str
    subject_table: str | None = None
    subject_id: str | None = None
    course_id: str | None = Field(default=None, foreign_key="course.id", index=True)
    workstation: str = ""
    detail: str = ""
    rows_sha256: str = "[]"
    previous_hash: str
    hash: str
