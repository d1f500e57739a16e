"""The pages without a patient: sign-in, a list of courses, and what went wrong."""

from dataclasses import dataclass

from app.pages.frame import Frame, NavLink
from app.pages.shown import When


@dataclass(frozen=True, slots=True)
class DemoPerson:
    """A sign-in that the demo tells everybody."""

    sign_in_name: str
    password: str
    role: str


@dataclass(frozen=True, slots=True)
class SignInPage:
    """Name and password; a failure never says which of the two was wrong."""

    frame: Frame
    sign_in_name: str
    error: str
    next_href: str
    demo_people: tuple[DemoPerson, ...] = ()


@dataclass(frozen=True, slots=True)
class CourseLine:
    """One course in a list: no name, only what tells it from the next."""

    href: str
    label: str
    started: When
    checks: int
    last_check: When | None
    state: str


@dataclass(frozen=True, slots=True)
class CoursesPage:
    """Courses that are in no bed: imported ones, and those that ended."""

    frame: Frame
    heading: str
    lines: tuple[CourseLine, ...]
    empty_words: str
    lead: str = ""


@dataclass(frozen=True, slots=True)
class TroublePage:
    """What went wrong, in plain words, with the ways on and, for a fault of ours, its number."""

    frame: Frame
    heading: str
    words: str
    ways: tuple[NavLink, ...]
    request_id: str = ""
    typed: tuple[tuple[str, str], ...] = ()
    """What had been typed, kept in sight when it could not be saved: label and text."""
