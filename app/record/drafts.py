"""What somebody has typed and not saved: kept for that person and that course only."""

from datetime import datetime

from msgspec import Struct
from sqlalchemy import ColumnElement, and_, delete, insert, select, update
from sqlmodel import Session

from app.record.tables import DraftRow, table_of

DRAFT = table_of(DraftRow)


class Draft(Struct, frozen=True):
    """Typed text of one form, as JSON text, and when it was kept."""

    course_id: str
    kind: str
    typed: str
    saved_at: datetime


def find_draft(session: Session, staff_id: str, course_id: str, kind: str) -> Draft | None:
    """The person's draft of that form for that course; None when there is none."""
    for draft in list_drafts(session, staff_id):
        if (draft.course_id, draft.kind) == (course_id, kind):
            return draft
    return None


def list_drafts(session: Session, staff_id: str) -> tuple[Draft, ...]:
    """Every draft of one person, newest first."""
    columns = [DRAFT.c[name] for name in Draft.__struct_fields__]
    rows = session.execute(
        select(*columns).where(DRAFT.c.staff_id == staff_id).order_by(DRAFT.c.saved_at.desc())
    )
    return tuple(Draft(*row) for row in rows)


def store_draft(session: Session, staff_id: str, draft: Draft) -> None:
    """Keep what was typed in place of what was kept before."""
    which = _one(staff_id, draft.course_id, draft.kind)
    values = {"typed": draft.typed, "saved_at": draft.saved_at}
    changed = update(DRAFT).where(which).values(**values).returning(DRAFT.c.kind)
    if not session.execute(changed).all():
        key = {"staff_id": staff_id, "course_id": draft.course_id, "kind": draft.kind}
        session.execute(insert(DRAFT), {**key, **values})


def drop_draft(session: Session, staff_id: str, course_id: str, kind: str) -> None:
    """Forget a draft, because it was saved or thrown away."""
    session.execute(delete(DRAFT).where(_one(staff_id, course_id, kind)))


def drop_drafts_before(session: Session, moment: datetime) -> None:
    """Forget what anybody kept before that moment and never came back for."""
    session.execute(delete(DRAFT).where(DRAFT.c.saved_at < moment))


def _one(staff_id: str, course_id: str, kind: str) -> ColumnElement[bool]:
    return and_(DRAFT.c.staff_id == staff_id, DRAFT.c.course_id == course_id, DRAFT.c.kind == kind)
