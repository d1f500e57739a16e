"""The board as its template reads it: one row per bed, in bed order, and the figures over it."""

from msgspec import Struct

from app.pages.frame import Frame
from app.pages.shown import Count, Due, Shown, Worry


class BoardRow(Struct, frozen=True):
    """One bed, read left to right: who, airway, support, lungs, gas, worry, next."""

    bed: str
    href: str
    occupied: bool
    empty_words: str = ""
    who: str = ""
    who_line: str = ""
    airway: str = ""
    airway_line: str = ""
    support: str = ""
    support_line: str = ""
    fio2: Shown | None = None
    peep: Shown | None = None
    lungs: tuple[Shown, ...] = ()
    """Volume per kg, driving pressure, compliance; empty when `lungs_words` says why."""
    lungs_words: str = ""
    gas: tuple[Shown, ...] = ()
    """SpO2 and P/F."""
    worries: tuple[Worry, ...] = ()
    """Most pressing first; the board shows two."""
    quiet_words: str = ""
    """For example "No flag raised" where nothing worries; never "safe"."""
    due: Due | None = None
    hold: str = ""
    """Who has the bed and where its handoff stands: "Ash has it; offered to Birch 18:40"."""
    offered: bool = False
    """Whether an offer waits for somebody to accept it."""
    last_check: Shown | None = None
    """The time of the last full check, and by whom."""
    drafts: int = 0
    drafts_words: str = ""
    """ "1 unsigned draft": it moves nothing else on the row."""


class BoardPage(Struct, frozen=True):
    """The whole board; `version` is what the refresh asks about."""

    frame: Frame
    counts: tuple[Count, ...]
    rows: tuple[BoardRow, ...]
    version: str
    policy_words: str
    """Which policy judged these beds: "Limits: policy 1 of 12 Nov, starting policy"."""
