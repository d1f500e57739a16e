"""What people said of flags; the flags themselves are never stored."""

from datetime import datetime

from sqlmodel import Field

from app.record.tables.row import RecordRow, record_table, supersedes


class FlagAnswerRow(RecordRow, table=True):
    """One person's word on the open flags of a cause: seen with a plan, muted, no longer muted."""

    __tablename__ = "flag_answer"
    __table_args__ = record_table("flag_answer")

    supersedes_id: str | None = supersedes("flag_answer")
    course_id: str = Field(foreign_key="course.id", index=True)
    cause: str
    said: str
    answers_at: datetime
    """The newest raise that the person had before them."""
    rules: str
    """JSON list of the rules whose flags stood open then."""
    words: str
    owner: str = ""
    muted_until: datetime | None = None
