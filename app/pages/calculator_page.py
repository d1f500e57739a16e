"""The calculator as its template reads it: four sheets, none of which knows a patient."""

from msgspec import Struct

from app.pages.assess_page import Option
from app.pages.frame import Frame
from app.pages.shown import Shown


class CalcInput(Struct, frozen=True):
    """One input of a sheet: what was typed, in which unit, and what is wrong with it."""

    id: str
    name: str
    label: str
    typed: str
    needed: bool
    unit: str = ""
    """The one unit that is taken, where there is no choice."""
    unit_name: str = ""
    units: tuple[Option, ...] = ()
    options: tuple[Option, ...] = ()
    """The answers of a choice; empty for a number."""
    error: str = ""


class CalcAnswer(Struct, frozen=True):
    """What comes out, in the very words of the file calculator."""

    shown: Shown
    exact: str = ""
    """The number before rounding; empty for a class and where there is none."""
    said: str = ""
    """The basis of a number, or why there is none."""


class IndexSheet(Struct, frozen=True):
    """Any index of the catalogue by hand."""

    choices: tuple[tuple[str, tuple[Option, ...]], ...]
    """Groups of indices to choose from: heading and options."""
    label: str
    formula: str
    valid_when: str
    source: str
    catalogue_href: str
    inputs: tuple[CalcInput, ...]
    more: tuple[CalcInput, ...]
    """Inputs that are seldom needed, folded away unless something stands in them."""
    more_open: bool
    answer: CalcAnswer | None = None


class VolumeLine(Struct, frozen=True):
    """A tidal volume at so many mL for each kilogram."""

    per_kg: str
    millilitres: str


class VolumeSheet(Struct, frozen=True):
    """Tidal volumes for a height and a sex."""

    inputs: tuple[CalcInput, ...]
    formula: str
    source: str
    weight: CalcAnswer | None = None
    lines: tuple[VolumeLine, ...] = ()


class Ways(Struct, frozen=True):
    """Inputs that belong together, such as one way of saying what a cylinder holds."""

    heading: str
    inputs: tuple[CalcInput, ...]


class CylinderSheet(Struct, frozen=True):
    """How long a cylinder lasts; every rounding falls on the side of more oxygen."""

    ways: tuple[Ways, ...]
    formula: str
    source: str
    letters: tuple[tuple[str, str], ...]
    """The unit's letters with their litres for each psi."""
    letters_words: str
    answers: tuple[CalcAnswer, ...] = ()
    words: str = ""
    """Why nothing could be worked out at all."""


class UnitSheet(Struct, frozen=True):
    """One quantity in every unit that measures it."""

    inputs: tuple[CalcInput, ...]
    source: str
    answers: tuple[CalcAnswer, ...] = ()


class CalculatorPage(Struct, frozen=True):
    """Four sheets; whatever is typed goes nowhere."""

    frame: Frame
    index: IndexSheet
    volume: VolumeSheet
    cylinder: CylinderSheet
    units: UnitSheet
