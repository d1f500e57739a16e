"""The lead's scan as its template reads it: what needs eyes first, one line for each bed."""

from msgspec import Struct

from app.pages.frame import Frame, NavLink
from app.pages.shown import Count, Due, When, Worry


class ScanBed(Struct, frozen=True):
    """One bed: its most pressing line, how many more there are, and who has it."""

    bed: str
    href: str
    who: str
    line: Worry
    more: str
    """ "and 2 more"; empty where the line is all."""
    hold: str
    """Who has the bed; and who is to have it, where that is somebody else."""
    since: str
    """Since when the line has been true, where it has a beginning."""
    at: When | None = None
    """When the value of the line was seen."""


class CalmBed(Struct, frozen=True):
    """A bed of which there is nothing to tell, and who has it."""

    bed: str
    href: str
    holder: str
    """Who has it; and who is to have it, where that is somebody else."""


class CalmBeds(Struct, frozen=True):
    """Beds of which the same little can be told: "No flag raised"."""

    words: str
    beds: tuple[CalmBed, ...]


class ScanLine(Struct, frozen=True):
    """One thing to see to, with the bed where it is."""

    bed: str
    href: str
    words: str
    due: Due | None = None


class ScanList(Struct, frozen=True):
    """What is open of one kind; `none` is what stands where nothing is."""

    heading: str
    lines: tuple[ScanLine, ...]
    none: str


class ScanPage(Struct, frozen=True):
    """The unit in a minute. It is read at one moment and stays as read until somebody asks anew."""

    frame: Frame
    read_at: str
    counts: tuple[Count, ...]
    supports: str
    filters: tuple[NavLink, ...]
    orders: tuple[NavLink, ...]
    beds: tuple[ScanBed, ...]
    calm: tuple[CalmBeds, ...]
    """What needs no line of its own where the order is that of worry; nothing of it is hidden."""
    left_out: str
    """What the filter hides: "9 beds are not shown"."""
    loads: tuple[str, ...]
    """Each person who has beds, with what is there; counted, not weighed."""
    lists: tuple[ScanList, ...]
    news_href: str
    here: str
    covers: tuple[str, ...] = ()
    """Who looks after whose beds now."""
    corridor: bool = False
    """Bed code and state only: a view that anybody may pass by."""
    other_href: str = ""


class ScanNews(Struct, frozen=True):
    """The offer to read the scan anew, because the unit changed since."""

    here: str
