"""What a check of a whole row says, and what it can look at."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from decimal import Decimal
from enum import StrEnum

from msgspec import Struct, field

from app.charting.event_facts import Event
from app.charting.facts import Airway, Assessment, Reading, Targets
from app.charting.fields import FIELDS
from app.charting.mode_families import ModeFamily, family_of
from app.charting.moment import SEA_LEVEL
from app.charting.shown import signed
from app.charting.unit_words import spelled


class Weight(StrEnum):
    """How much a finding asks of the person who saves."""

    NOTE = "note"
    """Said beside the row; nothing to answer."""
    QUESTION = "question"
    """Asked once; the row is saved with the answer."""
    BLOCK = "block"
    """Not saved unless it is recorded "as found", which becomes an open task (decision 29)."""


class Finding(Struct, frozen=True):
    """Two things in a row that do not fit, or one that wants a word.

    `code` is stable. `key` names the values too, so that an answer to one pair of numbers says
    nothing about another; a form sends it back as accepted.
    """

    code: str
    fields: tuple[str, ...]
    sentence: str
    weight: Weight
    key: str = ""


class Context(Struct, frozen=True):
    """What a row is held against; whatever is not known is left out and its checks stay silent.

    `settings` are in force before the row and `previous` the newest standing reading of each field
    before it. `airway` is the one in place; `events` are the course's; `gas` is the newest standing
    blood gas; `targets` are the orders; `device_elsewhere` names the bed of another open patient on
    the same machine.
    """

    now: datetime
    settings: Mapping[str, Reading] = field(default_factory=dict)
    previous: Mapping[str, Reading] = field(default_factory=dict)
    airway: Airway | None = None
    events: tuple[Event, ...] = ()
    gas: Assessment | None = None
    support_started_at: datetime | None = None
    ended_at: datetime | None = None
    pbw_kg: Decimal | None = None
    barometric_mmhg: Decimal = SEA_LEVEL
    device_elsewhere: str = ""
    targets: Targets = field(default_factory=Targets)


class Seen(Struct, frozen=True):
    """One row with its context, as the checks read it."""

    row: Assessment
    context: Context

    @property
    def family(self) -> ModeFamily:
        """The row's mode family; one that nobody charted allows nothing."""
        return family_of(self.row.mode_family)

    def reading(self, code: str) -> Reading | None:
        """The row's own reading that has a value."""
        reading = self.row.readings.get(code)
        return reading if reading is not None and reading.has_value else None

    def number(self, code: str) -> Decimal | None:
        """The row's own number; None where it has none."""
        reading = self.reading(code)
        return None if reading is None else reading.number

    def word(self, code: str) -> str:
        """The row's own word; empty where it has none."""
        reading = self.reading(code)
        return "" if reading is None else reading.word

    def in_force(self, code: str) -> Reading | None:
        """The row's own reading of a setting, else the one in force."""
        return self.reading(code) or self.context.settings.get(code)

    def set_number(self, code: str) -> Decimal | None:
        """The number of a setting: the row's own, else the one in force."""
        reading = self.in_force(code)
        return None if reading is None else reading.number

    def before(self, code: str) -> Decimal | None:
        """The last number of this field before the row; None where there is none."""
        reading = self.context.previous.get(code)
        return reading.number if reading is not None and reading.has_value else None

    def finding(self, code: str, fields: tuple[str, ...], sentence: str, weight: Weight) -> Finding:
        """A finding whose key names the values that it is about."""
        values = ",".join(self._value(name) for name in fields)
        return Finding(code, fields, sentence, weight, f"{code}:{values}")

    def note(self, code: str, fields: tuple[str, ...], sentence: str) -> Finding:
        """Something to be said."""
        return self.finding(code, fields, sentence, Weight.NOTE)

    def question(self, code: str, fields: tuple[str, ...], sentence: str) -> Finding:
        """Something to be asked."""
        return self.finding(code, fields, sentence, Weight.QUESTION)

    def block(self, code: str, fields: tuple[str, ...], sentence: str) -> Finding:
        """Something that is not saved unless it is as found."""
        return self.finding(code, fields, sentence, Weight.BLOCK)

    def _value(self, code: str) -> str:
        reading = self.in_force(code)
        if reading is None:
            return ""
        return reading.word if reading.number is None else spelled(reading.number)


Findings = Iterator[Finding]


def told(code: str, number: Decimal) -> str:
    """A field's name with its number and unit, for a sentence: "Pplat 28 cmH2O"."""
    known = FIELDS[code]
    return f"{known.name} {signed(spelled(number))} {known.unit}".strip()
