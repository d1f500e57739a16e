"""What a site needs before anybody can work in it: a unit, and somebody who can sign in."""

from msgspec import Struct
from sqlalchemy import select
from sqlmodel import Session

from app.record.people import list_people, password_hash
from app.record.tables import UnitRow, table_of

UNIT = table_of(UnitRow)


class SetUp(Struct, frozen=True):
    """What is there; a person counts who is not disabled and has a password."""

    has_unit: bool
    has_person: bool


def set_up(session: Session) -> SetUp:
    """How far this site is set up."""
    unit = session.execute(select(UNIT.c.id).limit(1)).one_or_none()
    people = (person for person in list_people(session) if person.active)
    return SetUp(
        has_unit=unit is not None,
        has_person=any(password_hash(session, person.id) for person in people),
    )
