"""The people who can sign in, and what each may do now."""

from datetime import datetime
from typing import Any

from msgspec import Struct
from sqlalchemy import Row, Select, bindparam, func, select
from sqlmodel import Session

from app.record.errors import NotFound
from app.record.tables import StaffRow, StaffStandingRow, table_of
from app.record.writing import Writing

STAFF = table_of(StaffRow)
STANDING = table_of(StaffStandingRow)

IMPORTER = "import"
"""Sign-in name of the person who stands for set-up and import. Nobody can sign in as it."""


class Person(Struct, frozen=True):
    """Somebody on the staff with their current standing; without one, role is empty."""

    id: str
    sign_in_name: str
    display_name: str
    role: str
    active: bool
    since: datetime | None


def _standing() -> Select[Any]:
    """Staff with the newest row of their standing; ids grow in the order of writing."""
    last = select(func.max(STANDING.c.id)).group_by(STANDING.c.staff_id)
    holds = (STANDING.c.staff_id == STAFF.c.id) & STANDING.c.id.in_(last)
    columns = [STANDING.c[name] for name in ("role", "active", "since", "password_hash")]
    return select(STAFF, *columns).outerjoin(STANDING, holds)


_STANDING = _standing()
_BY_ID = _STANDING.where(STAFF.c.id == bindparam("staff"))


def list_people(session: Session) -> tuple[Person, ...]:
    """Everybody, by display name; the set-up person is left out."""
    rows = session.execute(_STANDING.where(STAFF.c.sign_in_name != IMPORTER)).all()
    return tuple(sorted(map(_person, rows), key=lambda person: person.display_name.casefold()))


def find_person(session: Session, staff_id: str) -> Person:
    """One person. Raises NotFound."""
    row = session.execute(_BY_ID, {"staff": staff_id}).one_or_none()
    if row is None:
        raise NotFound("person", staff_id)
    return _person(row)


def find_by_sign_in_name(session: Session, name: str) -> Person | None:
    """Whoever signs in by that name, however it was capitalised; None when nobody does."""
    sign_in_name = as_sign_in_name(name)
    row = session.execute(_STANDING.where(STAFF.c.sign_in_name == sign_in_name)).one_or_none()
    return None if row is None else _person(row)


def password_hash(session: Session, staff_id: str) -> str:
    """The hash that holds now; empty when the person cannot sign in."""
    row = session.execute(_BY_ID, {"staff": staff_id}).one_or_none()
    return (row.password_hash or "") if row is not None and row.active else ""


def as_sign_in_name(text: str) -> str:
    """The one form of a sign-in name: no capitals, no spaces around it."""
    return text.strip().casefold()


def set_up_person(writing: Writing) -> str:
    """The id of the person who stands for set-up and import; made at the first call.

    It is its own author, because somebody has to be the first.
    """
    found = find_by_sign_in_name(writing.session, IMPORTER)
    if found is not None:
        return found.id
    key = writing.new_id()
    writing.add(StaffRow(id=key, author_id=key, sign_in_name=IMPORTER, display_name="Set-up"))
    return key


def _person(row: Row[Any]) -> Person:
    return Person(
        id=row.id,
        sign_in_name=row.sign_in_name,
        display_name=row.display_name,
        role=row.role or "",
        active=bool(row.active),
        since=row.since,
    )
