"""Who is signed in where. The browser holds a token, the store only its hash."""

from datetime import datetime
from typing import Any

from msgspec import Struct
from sqlalchemy import ColumnElement, bindparam, delete, insert, select, update
from sqlmodel import Session

from app.record.canonical import sha256
from app.record.tables import IdentityCheckRow, SessionRow, table_of

SESSION = table_of(SessionRow)
IDENTITY = table_of(IdentityCheckRow)


class SignedIn(Struct, frozen=True):
    """One signed-in browser."""

    staff_id: str
    csrf_secret: str
    created_at: datetime
    last_seen_at: datetime
    ends_at: datetime
    workstation: str


_OF_TOKEN = select(*(SESSION.c[name] for name in SignedIn.__struct_fields__)).where(
    SESSION.c.token_sha256 == bindparam("token"), SESSION.c.ends_at > bindparam("now")
)


def open_session(session: Session, token: str, signed_in: SignedIn) -> None:
    """Keep a new session under the hash of its token."""
    columns = SignedIn.__struct_fields__
    values = {name: getattr(signed_in, name) for name in columns}
    session.execute(insert(SESSION), {"token_sha256": sha256(token), **values})


def find_session(session: Session, token: str, now: datetime) -> SignedIn | None:
    """The session of that token; None when there is none or it has ended."""
    row = session.execute(_OF_TOKEN, {"token": sha256(token), "now": now}).one_or_none()
    return None if row is None else SignedIn(*row)


def touch_session(session: Session, token: str, now: datetime) -> None:
    """Note that a person did something; polling is not doing something."""
    session.execute(
        update(SESSION).where(SESSION.c.token_sha256 == sha256(token)).values(last_seen_at=now)
    )


def close_session(session: Session, token: str) -> None:
    """Sign this browser out."""
    _close(session, SESSION.c.token_sha256 == sha256(token))


def close_sessions_of(session: Session, staff_id: str) -> None:
    """Sign a person out everywhere: a new password, a new role, or the end of their standing."""
    _close(session, SESSION.c.staff_id == staff_id)


def close_ended_sessions(session: Session, now: datetime) -> None:
    """Remove what nobody can use any more."""
    _close(session, SESSION.c.ends_at <= now)


def _close(session: Session, which: ColumnElement[Any]) -> None:
    """Remove the sessions, and whose charts they had said they were at."""
    closed = select(SESSION.c.token_sha256).where(which)
    session.execute(delete(IDENTITY).where(IDENTITY.c.token_sha256.in_(closed)))
    session.execute(delete(SESSION).where(which))
