"""Rows that come and go while people work; they may be changed, and no fact rests on them."""

from datetime import datetime

from sqlmodel import Field, SQLModel

from app.record.tables import row as _row  # noqa: F401  (sets the naming convention first)


class SessionRow(SQLModel, table=True):
    """A signed-in browser. Only the hash of its token is kept."""

    __tablename__ = "session"

    token_sha256: str = Field(primary_key=True)
    staff_id: str = Field(foreign_key="staff.id", index=True)
    csrf_secret: str
    created_at: datetime
    last_seen_at: datetime
    ends_at: datetime
    workstation: str = ""


class IdentityCheckRow(SQLModel, table=True):
    """Whose chart it is, as one signed-in browser said it; gone with the session."""

    __tablename__ = "identity_check"

    token_sha256: str = Field(primary_key=True)
    course_id: str = Field(primary_key=True, foreign_key="course.id")
    wrong: int = 0
    """How often something else was typed."""
    confirmed_at: datetime | None = None


class DraftRow(SQLModel, table=True):
    """What one person has typed and not saved, for one course and one form."""

    __tablename__ = "draft"

    staff_id: str = Field(primary_key=True, foreign_key="staff.id")
    course_id: str = Field(primary_key=True, foreign_key="course.id")
    kind: str = Field(primary_key=True)
    typed: str
    """JSON text."""
    saved_at: datetime


class ThrottleRow(SQLModel, table=True):
    """Failures counted under one key, and until when the next try has to wait."""

    __tablename__ = "throttle"

    key: str = Field(primary_key=True)
    failures: int
    until: datetime | None = None


class IdempotencyKeyRow(SQLModel, table=True):
    """A form's key, what was sent with it, and the id of what was saved."""

    __tablename__ = "idempotency_key"

    staff_id: str = Field(primary_key=True, foreign_key="staff.id")
    key: str = Field(primary_key=True)
    content_sha256: str
    answer: str
    saved_at: datetime = Field(index=True)
