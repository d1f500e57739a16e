"""What a field is: the one declaration behind form, validation, storage, grid and export."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum


class Group(StrEnum):
    """Where a field stands at the bedside; the order of the members is the order of the round."""

    IDENTITY = "identity"
    PATIENT = "patient"
    MONITOR = "monitor"
    AIRWAY = "airway"
    SETTINGS = "settings"
    MEASURED = "measured"
    HOLDS = "holds"
    ALARMS = "alarms"
    HUMIDIFICATION = "humidification"
    SAFETY = "safety"
    GAS = "gas"


class Shape(StrEnum):
    """What an answer looks like."""

    NUMBER = "number"
    CHOICE = "choice"
    TEXT = "text"
    DATE = "date"
    MOMENT = "moment"


class Manner(StrEnum):
    """How a value may be entered; a setting or a mark can be confirmed, a measurement cannot."""

    SETTING = "setting"
    READ_OFF = "read_off"
    MEASURED = "measured"
    STATED = "stated"
    """Said by a person (a choice, a tick, a text): neither confirmed nor measured."""


class Use(StrEnum):
    """What a mode family does with a field."""

    REQUIRED = "required"
    OPTIONAL = "optional"
    TAGGED = "tagged"
    """Stored if somebody types it, with a warning beside it, and never used for mechanics."""
    HIDDEN = "hidden"


@dataclass(frozen=True, slots=True)
class Range:
    """A closed interval in the field's own unit; None is open on that side."""

    low: Decimal | None
    high: Decimal | None

    def holds(self, number: Decimal) -> bool:
        """Whether the number lies inside; the ends belong to the interval."""
        above = self.low is None or number >= self.low
        return above and (self.high is None or number <= self.high)


@dataclass(frozen=True, slots=True)
class Choice:
    """One possible answer of a field: its stored code and the word a reader sees."""

    code: str
    label: str


@dataclass(frozen=True, slots=True)
class Field:
    """Everything the program knows of one thing that is charted.

    `unit` is canonical: what is stored. `accepted_units` may be typed behind the number. `places`
    is the number of decimals shown. A number outside `hard` is refused, outside `soft` asked about
    once. `clif` is the column of the open CLIF 2.1 format, where there is one.
    """

    code: str
    label: str
    group: Group
    shape: Shape
    manner: Manner
    short: str = ""
    unit: str = ""
    accepted_units: tuple[str, ...] = ()
    places: int = 0
    hard: Range | None = None
    soft: Range | None = None
    step: Decimal | None = None
    choices: tuple[Choice, ...] = ()
    help: str = ""
    source: str = ""
    clif: str = ""
