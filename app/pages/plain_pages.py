"""The pages without a patient: sign-in, a list of courses, and what went wrong."""

from msgspec import Struct

from app.pages.frame import Frame, NavLink
from app.pages.shown import When


class DemoPerson(Struct, frozen=True):
    """A sign-in that the demo tells everybody."""

    sign_in_name: str
    password: str
    role: str


class SignInPage(Struct, frozen=True):
    """Name and password; a failure never says which of the two was wrong."""

    frame: Frame
    sign_in_name: str
    error: str
    next_href: str
    demo_people: tuple[DemoPerson, ...] = ()


class CourseLine(Struct, frozen=True):
    """One course in a list: no name, only what tells it from the next."""

    href: str
    label: str
    started: When
    checks: int
    last_check: When | None
    state: str


class CoursesPage(Struct, frozen=True):
    """Courses that are in no bed: imported ones, and those that ended."""

    frame: Frame
    heading: str
    lines: tuple[CourseLine, ...]
    empty_words: str
    lead: str = ""


class TroublePage(Struct, frozen=True):
    """What went wrong, in plain words, with the ways on and, for a fault of ours, its number."""

    frame: Frame
    heading: str
    words: str
    ways: tuple[NavLink, ...]
    request_id: str = ""
    typed: tuple[tuple[str, str], ...] = ()
    """What had been typed, kept in sight when it could not be saved: label and text."""
