"""A form that arrives twice is saved once: its key is stored together with what it saved."""

from datetime import datetime

from sqlalchemy import bindparam, delete, insert, select
from sqlmodel import Session

from app.record.errors import KeyReused
from app.record.tables import IdempotencyKeyRow, table_of
from app.record.writing import Writing

KEYS = table_of(IdempotencyKeyRow)


_OF_FORM = select(KEYS.c.content_sha256, KEYS.c.answer).where(
    KEYS.c.staff_id == bindparam("staff"), KEYS.c.key == bindparam("form")
)


def recall(session: Session, staff_id: str, key: str, content_sha256: str) -> str | None:
    """What the same form saved before; None when it is new. Ask inside the write.

    Raises KeyReused when the key came with other content. Keys of different people never meet.
    """
    row = session.execute(_OF_FORM, {"staff": staff_id, "form": key}).one_or_none()
    if row is None:
        return None
    if row.content_sha256 != content_sha256:
        raise KeyReused(key)
    return str(row.answer)


def remember(writing: Writing, staff_id: str, key: str, content_sha256: str, answer: str) -> None:
    """Keep what the form saved, in the same transaction as the save."""
    writing.session.execute(
        insert(KEYS),
        {
            "staff_id": staff_id,
            "key": key,
            "content_sha256": content_sha256,
            "answer": answer,
            "saved_at": writing.recorded_at,
        },
    )


def was_saved(session: Session, staff_id: str, key: str) -> bool:
    """Whether a form with that key has saved something."""
    saved = select(KEYS.c.key).where(KEYS.c.staff_id == staff_id, KEYS.c.key == key)
    return session.execute(saved).one_or_none() is not None


def forget_before(session: Session, moment: datetime) -> None:
    """Remove keys that no form can still come back with."""
    session.execute(delete(KEYS).where(KEYS.c.saved_at < moment))
