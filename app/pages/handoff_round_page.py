"""The round of handoffs as its template reads it: one row per bed, and how far it has come."""

from msgspec import Struct

from app.pages.frame import Frame, NavLink
from app.pages.shown import Due, When


class RoundRow(Struct, frozen=True):
    """One bed of the round: who, how worried, where its handoff stands, what this reader can do."""

    bed: str
    who: str
    who_line: str
    concern: str
    """ "High concern"; empty where nobody chose one."""
    concern_words: str
    concern_key: str
    flags: str
    """What lies outside the unit's ranges, in one line; empty without a flag."""
    state: str
    """ "draft", "offered", "returned" or "accepted": which mark stands before the words."""
    standing: str
    yours: str
    """What this reader can do next, as the words of the link."""
    href: str
    late: str
    """ "2 late items to look at"; empty where there is none for this reader."""
    due: Due | None = None
    task: When | None = None


class RoundGroup(Struct, frozen=True):
    """Beds that ask the same of this reader."""

    heading: str
    key: str
    rows: tuple[RoundRow, ...]


class RoundPage(Struct, frozen=True):
    """All beds of the unit, worst first within each group."""

    frame: Frame
    progress: tuple[str, ...]
    groups: tuple[RoundGroup, ...]
    orders: tuple[NavLink, ...]
    version: str
    rows_href: str
    empty_words: str = "Nobody is in a bed of this unit."
