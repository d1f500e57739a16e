"""Whether somebody has said in this session whose chart it is, and how often it was another's."""

from datetime import datetime

from msgspec import Struct
from sqlalchemy import ColumnElement, and_, delete, insert, select
from sqlmodel import Session

from app.record.canonical import sha256
from app.record.tables import IdentityCheckRow, table_of

IDENTITY = table_of(IdentityCheckRow)


class IdentityCheck(Struct, frozen=True):
    """What one session said of one course. Nothing yet, unless `confirmed_at` or `wrong` say so."""

    wrong: int = 0
    confirmed_at: datetime | None = None


NOT_YET = IdentityCheck()


def find_identity_check(session: Session, token: str, course_id: str) -> IdentityCheck:
    """What this session said of that course; NOT_YET when it said nothing."""
    row = session.execute(
        select(IDENTITY.c.wrong, IDENTITY.c.confirmed_at).where(_one(token, course_id))
    ).one_or_none()
    return NOT_YET if row is None else IdentityCheck(*row)


def store_identity_check(
    session: Session, token: str, course_id: str, check: IdentityCheck
) -> None:
    """Keep what the session says now, in place of what it said before."""
    session.execute(delete(IDENTITY).where(_one(token, course_id)))
    key = {"token_sha256": sha256(token), "course_id": course_id}
    said = {"wrong": check.wrong, "confirmed_at": check.confirmed_at}
    session.execute(insert(IDENTITY), {**key, **said})


def _one(token: str, course_id: str) -> ColumnElement[bool]:
    return and_(IDENTITY.c.token_sha256 == sha256(token), IDENTITY.c.course_id == course_id)
