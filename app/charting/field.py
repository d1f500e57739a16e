"""What a field is: the one declaration behind form, validation, storage, grid and export."""

from decimal import Decimal
from enum import StrEnum

from msgspec import Struct


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


class Range(Struct, frozen=True):
    """A closed interval in the field's own unit; None is open on that side."""

    low: Decimal | None
    high: Decimal | None

    def holds(self, number: Decimal) -> bool:
        """Whether the number lies inside; the ends belong to the interval."""
        above = self.low is None or number >= self.low
        return above and (self.high is None or number <= self.high)


class Jump(Struct, frozen=True):
    """How far a value may move from the last one before somebody is asked: more than `by` asks.

    `by` is in the field's own unit, or in percent of the last value when `percent` is set.
    """

    by: Decimal
    percent: bool = False


class Choice(Struct, frozen=True):
    """One possible answer of a field: its stored code and the word a reader sees."""

    code: str
    label: str


class Field(Struct, frozen=True):
    """Everything the program knows of one thing that is charted.

    `unit` is canonical: what is stored. `accepted_units` may be typed behind the number. `places`
    is the number of decimals shown, with a trailing zero dropped where `trim` is set (PEEP 5, 7.5).
    A number outside `hard` is refused, outside `soft` or further than `jump` from the last value
    asked about once; `whole` takes integers only. `longest` is the number of characters a text may
    have. `clif` is the column of the open CLIF 2.1 format, where there is one. `per` is what is
    shown for one stored: 1 here, another factor only in a field as a site writes it (decision 34).
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
    jump: Jump | None = None
    whole: bool = False
    trim: bool = False
    longest: int = 0
    per: Decimal = Decimal(1)

    @property
    def name(self) -> str:
        """The word a sentence uses: the short label where there is one."""
        return self.short or self.label

    @property
    def confirmable(self) -> bool:
        """Whether it may be confirmed unchanged after looking (decision 8)."""
        return self.manner in (Manner.SETTING, Manner.READ_OFF)

    def label_of(self, code: str) -> str:
        """The word a reader sees for a choice; the code itself where it is not one of them."""
        return next((choice.label for choice in self.choices if choice.code == code), code)
