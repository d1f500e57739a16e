"""The demo's people: invented, named after trees, with passwords that everybody may know."""

from msgspec import Struct

from app.actions.add_person import add_person
from app.actions.passwords import Passwords
from app.actions.permissions import ROLE_WORDS, Role
from app.pages.plain_pages import DemoPerson
from app.record.writing import Writing


class Member(Struct, frozen=True):
    """One person of the unit."""

    sign_in_name: str
    display_name: str
    role: Role
    about: str

    @property
    def password(self) -> str:
        """Not a secret: the sign-in page of the demo prints it."""
        return f"{self.sign_in_name}-of-unit-larch"


PEOPLE: tuple[Member, ...] = (
    Member("ash", "Ash", Role.THERAPIST, "day shift"),
    Member("birch", "Birch", Role.THERAPIST, "night shift"),
    Member("cedar", "Cedar", Role.LEAD, "day shift"),
    Member("fern", "Fern", Role.STUDENT, "day shift"),
    Member("oak", "Dr Oak", Role.READER, "physician"),
    Member("rowan", "Rowan", Role.AUDITOR, "no patients"),
)

DEMO_PEOPLE: tuple[DemoPerson, ...] = tuple(
    DemoPerson(one.sign_in_name, one.password, f"{ROLE_WORDS[one.role]}, {one.about}")
    for one in PEOPLE
)
"""What the demo's sign-in page shows: name, password, role."""


def add_people(writing: Writing, passwords: Passwords) -> dict[str, str]:
    """Write everybody; returns ids by sign-in name."""
    return {
        one.sign_in_name: add_person(
            writing,
            passwords,
            sign_in_name=one.sign_in_name,
            display_name=one.display_name,
            role=one.role,
            password=one.password,
        )
        for one in PEOPLE
    }
