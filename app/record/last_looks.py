"""When a person last looked at a course, kept apart from the audit so that it answers at once."""

from datetime import datetime, timedelta

from sqlalchemy import ColumnElement, and_, insert, select, update
from sqlmodel import Session

from app.record.tables import LastLookRow, table_of

LOOK = table_of(LastLookRow)

ONE_LOOK = timedelta(minutes=30)
"""Pages opened within this time of each other are one look (engineering judgement)."""


def looked_before(
    session: Session, staff_id: str, course_id: str, now: datetime
) -> datetime | None:
    """When the person's look before the one at `now` ended; None where there was none."""
    row = session.execute(
        select(LOOK.c.before_at, LOOK.c.last_at).where(_one(staff_id, course_id))
    ).one_or_none()
    if row is None:
        return None
    before: datetime | None = row.last_at if now - row.last_at >= ONE_LOOK else row.before_at
    return before


def note_look(session: Session, staff_id: str, course_id: str, now: datetime) -> None:
    """The person looks at `now`: the look that is going on goes on, or a new one begins."""
    before = looked_before(session, staff_id, course_id, now)
    values = {"before_at": before, "last_at": now}
    changed = update(LOOK).where(_one(staff_id, course_id)).values(**values)
    if not session.execute(changed.returning(LOOK.c.staff_id)).all():
        key = {"staff_id": staff_id, "course_id": course_id}
        session.execute(insert(LOOK), {**key, **values})


def _one(staff_id: str, course_id: str) -> ColumnElement[bool]:
    return and_(LOOK.c.staff_id == staff_id, LOOK.c.course_id == course_id)
