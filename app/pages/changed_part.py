"""What changed, as templates read it: one line for each step, and the moment compared with."""

from msgspec import Struct

from app.pages.frame import NavLink
from app.pages.shown import When


class Change(Struct, frozen=True):
    """One step of what changed: before, after, when, by whom and why."""

    what: str
    before: str
    after: str
    when: When
    author: str
    why: str = ""
    first_seen: str = ""
    """ "first seen 14:10", in place of a value before, where none was known."""
    corrected: str = ""
    """ "corrected from 18 at 19:40"; empty for what was charted so at once."""
    is_event: bool = False
    """Whether `after` says what happened: there is nothing before it, and its words are its why."""


class ChangedPart(Struct, frozen=True):
    """What changed since a moment that the reader chose."""

    note: str
    changes: tuple[Change, ...]
    empty_words: str
    ways: tuple[NavLink, ...] = ()
    """The moments that can be chosen; none where there is only one."""
