"""Counted failures, and until when the next try waits."""

from datetime import datetime

from msgspec import Struct
from sqlalchemy import delete, insert, select, update
from sqlmodel import Session

from app.record.tables import ThrottleRow, table_of

THROTTLE = table_of(ThrottleRow)


class Throttle(Struct, frozen=True):
    """Failures so far under one key; `until` is None while nothing has to wait."""

    failures: int = 0
    until: datetime | None = None


def find_throttle(session: Session, key: str) -> Throttle:
    """What is counted under the key; nothing when it was never used."""
    row = session.execute(
        select(THROTTLE.c.failures, THROTTLE.c.until).where(THROTTLE.c.key == key)
    ).one_or_none()
    return Throttle() if row is None else Throttle(*row)


def store_throttle(session: Session, key: str, throttle: Throttle) -> None:
    """Replace what is counted under the key."""
    values = {"failures": throttle.failures, "until": throttle.until}
    changed = update(THROTTLE).where(THROTTLE.c.key == key).values(**values)
    if not session.execute(changed.returning(THROTTLE.c.key)).all():
        session.execute(insert(THROTTLE), {"key": key, **values})


def clear_throttle(session: Session, key: str) -> None:
    """Forget the failures under the key."""
    session.execute(delete(THROTTLE).where(THROTTLE.c.key == key))
