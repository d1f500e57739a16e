"""A form of a few sections over the history of what it changes, as its template reads it."""

from msgspec import Struct

from app.pages.assess_page import ObservedInput, Option
from app.pages.calculator_page import CylinderSheet
from app.pages.frame import Banner, Frame, NavLink
from app.pages.row_page import AskedFirst
from app.pages.shown import When


class Blank(Struct, frozen=True):
    """One thing to fill in. `shape` is number, text, choice, date, moment or tick."""

    code: str
    label: str
    shape: str
    typed: str = ""
    unit: str = ""
    hint: str = ""
    options: tuple[Option, ...] = ()
    empty: str = "not yet"
    """What an unanswered choice says."""
    bad: str = ""
    """What was refused about it, in a sentence."""


class WeightCard(Struct, frozen=True):
    """The predicted weight with its volumes as somebody types, or why there is none."""

    href: str
    words: str
    lines: tuple[tuple[str, str], ...] = ()
    """mL/kg and mL."""
    formula: str = ""
    source: str = ""


class FillSection(Struct, frozen=True):
    """Things that belong together, under one legend."""

    legend: str
    blanks: tuple[Blank, ...]
    note: str = ""
    weight: WeightCard | None = None
    """What the section's own answers come to."""


class HistoryLine(Struct, frozen=True):
    """One entry of what was so before, or is so now."""

    when: When
    words: str
    author: str
    why: str = ""
    holds: bool = False
    href: str = ""
    """Where it is looked at by itself and put right."""


class FillForm(Struct, frozen=True):
    """The form itself, with every word that was typed still in it."""

    action: str
    sections: tuple[FillSection, ...]
    save_label: str
    save_key: str
    back_href: str
    look_label: str = ""
    """What the button says that shows without saving; empty for a form that has none."""
    observed: ObservedInput | None = None
    hidden: tuple[tuple[str, str], ...] = ()
    errors: tuple[str, ...] = ()
    way_out: NavLink | None = None
    """Where an error leads: the bed or the patient that stands in the way."""
    asks: tuple[AskedFirst, ...] = ()
    accepted: tuple[str, ...] = ()
    one_press: bool = False
    """Whether Enter saves as soon as the page is open."""
    cylinder: CylinderSheet | None = None
    """How long an oxygen cylinder lasts, where the form asks for that."""


class FillPage(Struct, frozen=True):
    """One subject of one patient: what holds, what was before, and the form that changes it."""

    frame: Frame
    banner: Banner
    heading: str
    lead: str
    ways: tuple[NavLink, ...]
    """Other things that can be said here, each with its own form."""
    history: tuple[HistoryLine, ...]
    history_words: str
    form: FillForm | None
    """None for whoever may only read."""
    back_href: str
