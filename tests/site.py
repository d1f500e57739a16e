"""A site for tests, with people in it: the real app on a test's own record."""

from argon2.profiles import CHEAPEST
from fastapi import FastAPI

from app.actions.passwords import Passwords
from app.main import create_app
from app.record.database import Database
from app.record.people import find_by_sign_in_name, set_up_person
from app.record.tables import StaffRow, StaffStandingRow
from app.settings import Settings
from tests.clock import Clock

SECRET = "a secret of the tests, long enough: 0123456789abcdef"
PASSWORD = "larch and cedar 7"
PASSWORDS = Passwords(CHEAPEST)
"""Hashing as the app does it, at a cost that lets a test sign in a thousand times."""


def open_site(
    database: Database,
    clock: Clock,
    *,
    demo: bool = True,
    passwords: Passwords = PASSWORDS,
    identity_digits: int = 0,
    **more,
) -> FastAPI:
    """The app. The demo is on the loopback without HTTPS; otherwise cookies are secure.

    Nobody is asked whose chart it is unless a test says how much of the record number it wants.
    """
    settings = Settings(
        database_url=str(database.url),
        secret=SECRET,
        demo=demo,
        cookie_secure=not demo,
        identity_digits=identity_digits,
    )
    return create_app(settings, database, clock, passwords=passwords, **more)


def hire(
    database: Database,
    clock: Clock,
    sign_in_name: str,
    role: str = "therapist",
    password: str = PASSWORD,
    passwords: Passwords = PASSWORDS,
) -> str:
    """Add somebody who can sign in; returns the person's id."""
    with database.writing(clock) as writing:
        writing.author_id = set_up_person(writing)
        person = StaffRow(sign_in_name=sign_in_name, display_name=sign_in_name.capitalize())
        writing.add(person)
        writing.add(
            StaffStandingRow(
                staff_id=person.id,
                role=role,
                password_hash=passwords.hash(password),
                since=writing.recorded_at,
            )
        )
        writing.audit("add_person", subject=person)
    return person.id


def dismiss(database: Database, clock: Clock, sign_in_name: str) -> None:
    """End somebody's standing without touching their sessions."""
    with database.writing(clock) as writing:
        writing.author_id = set_up_person(writing)
        person = find_by_sign_in_name(writing.session, sign_in_name)
        writing.add(
            StaffStandingRow(
                staff_id=person.id, role=person.role, active=False, since=writing.recorded_at
            )
        )
        writing.audit("end_standing", subject=("staff", person.id))
