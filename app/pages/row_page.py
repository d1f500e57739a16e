"""One row of the chart as its template reads it: every value with what it was before."""

from msgspec import Struct

from app.pages.assess_page import Option
from app.pages.frame import Banner, Frame
from app.pages.shown import Shown, When


class AskedFirst(Struct, frozen=True):
    """One question before something is kept, and the word that answers it."""

    key: str
    """What the form sends back; it names the values, so that it holds for these alone."""
    sentence: str
    words: str


class OldValue(Struct, frozen=True):
    """What stood there once: readable, struck, with who wrote it and when."""

    text: str
    author: str
    when: When
    why: str
    """Why it had taken the place of one before; empty for what was charted first."""


class RowValue(Struct, frozen=True):
    """One value of the row, its history, and the form that corrects it."""

    code: str
    label: str
    shown: Shown
    by: str
    """Who corrected it and when; empty for what was charted first."""
    why: str
    old: tuple[OldValue, ...]
    """The newest of them first."""
    version: str
    """Names the version that a correction replaces."""
    shape: str
    typed: str = ""
    options: tuple[Option, ...] = ()
    reasons: tuple[Option, ...] = ()
    why_typed: str = ""
    error: str = ""
    asks: tuple[AskedFirst, ...] = ()
    accepted: tuple[str, ...] = ()
    """Keys of what was answered already."""
    open: bool = False
    """Whether the form stands open, because something on it is to be looked at."""


class RowGroup(Struct, frozen=True):
    """Values that were read in one place at the bed."""

    heading: str
    values: tuple[RowValue, ...]


class StrikeForm(Struct, frozen=True):
    """How the whole row is struck, and how it gets onto the right patient's chart."""

    action: str
    typed: str
    error: str
    is_mine: bool
    """Whether the viewer wrote the row, and so may chart it again on the right patient."""
    again_action: str
    beds: tuple[Option, ...]


class RowPage(Struct, frozen=True):
    """One row of one patient's chart."""

    frame: Frame
    banner: Banner
    heading: str
    written: str
    notes: tuple[str, ...]
    struck: str
    """By whom, when and why; empty while the row stands."""
    trouble: str
    """Why nothing was saved, where that concerns the row and not one field."""
    groups: tuple[RowGroup, ...]
    correct_action: str
    strike: StrikeForm | None
    """None for a row that is struck, and for whoever may not correct."""
    back_href: str


class AgainValue(Struct, frozen=True):
    """One value on its way to another chart, as it was typed."""

    label: str
    text: str


class AgainPage(Struct, frozen=True):
    """A row that was written on the wrong chart, before it is charted on this one."""

    frame: Frame
    banner: Banner
    heading: str
    observed: When
    values: tuple[AgainValue, ...]
    asks: tuple[AskedFirst, ...]
    accepted: tuple[str, ...]
    refused: tuple[str, ...]
    action: str
    back_href: str


class HeightVersion(Struct, frozen=True):
    """A height as somebody wrote it down."""

    words: str
    author: str
    when: When
    why: str
    holds: bool


class HeightPage(Struct, frozen=True):
    """The height with its history, what it moved, and the form that says it anew."""

    frame: Frame
    banner: Banner
    heading: str
    versions: tuple[HeightVersion, ...]
    """The newest first."""
    moved: tuple[str, ...]
    """Rows that read otherwise now, and on which side of the limit they lie."""
    moved_words: str
    action: str
    seen: str
    typed: str
    methods: tuple[Option, ...]
    sexes: tuple[Option, ...]
    why_typed: str
    errors: tuple[str, ...]
    asks: tuple[AskedFirst, ...]
    accepted: tuple[str, ...]
    trouble: str
    first: bool
    """True while no height is known: then no reason is asked for."""
    may_correct: bool
    back_href: str
