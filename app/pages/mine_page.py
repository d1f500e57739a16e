"""A therapist's own beds as the template reads them: what is due soon, and what stands out."""

from msgspec import Struct

from app.pages.frame import Frame
from app.pages.shown import Due, Worry


class DueAtBed(Struct, frozen=True):
    """One thing that is due, with the bed where it is."""

    bed: str
    href: str
    due: Due


class MyBed(Struct, frozen=True):
    """One bed of this person: who is in it, what stands out, what is due there."""

    bed: str
    who: str
    who_line: str
    href: str
    why_mine: str
    """Why the bed stands here: "yours since 19:05", "you cover; Ash has it"."""
    worries: tuple[Worry, ...]
    quiet_words: str
    due: tuple[Due, ...]
    quiet_due: str
    """What stands where nothing is due in these hours; empty where something is."""
    assess_href: str
    """Empty for a bed that is assigned and not accepted: it is somebody else's to check."""
    handoff_href: str


class MinePage(Struct, frozen=True):
    """The next two hours of one person: everything due in order of time, then bed by bed."""

    frame: Frame
    summary_words: str
    in_order: tuple[DueAtBed, ...]
    beds: tuple[MyBed, ...]
    offered_words: str
    """Beds that are offered to this person and wait; empty where none is."""
    empty_words: tuple[str, ...]
    version: str
    rows_href: str
    cover_words: tuple[str, ...] = ()
    """Whom this person covers for, and who covers for them."""
