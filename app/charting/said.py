"""What one person says of one thing, in a shape in which two people's words can be compared."""

from datetime import datetime
from decimal import Decimal

from msgspec import Struct

from app.charting.facts import Airway, Assessment, Reading
from app.charting.fields import FIELDS
from app.charting.typed_check import NewReading
from app.charting.unit_words import spelled

AIRWAY = "airway_category"
MODE = "mode_family"


class Said(Struct, frozen=True):
    """A number, a word, a reason why there is neither, or nothing at all.

    `by`, `at` and `key` are empty for what has not been saved. `text` reads back to the value.
    """

    field: str
    number: Decimal | None = None
    word: str = ""
    reason: str = ""
    by: str = ""
    at: datetime | None = None
    key: str = ""
    text: str = ""
    kept: bool = False
    """True for a value that was only confirmed, not typed."""

    @property
    def has_value(self) -> bool:
        """Whether there is a number or a word."""
        return self.number is not None or self.word != ""

    @property
    def identity(self) -> tuple[str, ...]:
        """What makes it this saying and no other."""
        number = "" if self.number is None else spelled(self.number)
        return (self.field, number, self.word, self.reason, self.key)


def same(one: Said, other: Said) -> bool:
    """Whether both say the same; two reasons for no value are no contradiction."""
    return (one.number, one.word) == (other.number, other.word)


def of_new(new: NewReading) -> Said:
    """What a form says."""
    return Said(new.field, new.number, new.word, new.reason, text=new.raw)


def of_reading(reading: Reading) -> Said:
    """What stands in the chart."""
    value = reading.word if reading.number is None else spelled(reading.number)
    return Said(
        reading.field,
        reading.number,
        reading.word,
        reading.reason,
        reading.author,
        reading.observed_at,
        reading.id,
        f"{value} {FIELDS[reading.field].unit}".strip(),
    )


def of_mode(row: Assessment) -> Said:
    """The mode family that a row names."""
    return Said(MODE, word=row.mode_family, by=row.author, at=row.observed_at, key=row.id)


def of_airway(airway: Airway) -> Said:
    """The tube in place, as its size and its category."""
    return Said(
        AIRWAY,
        number=airway.size_mm,
        word=airway.category,
        by=airway.author,
        at=airway.observed_at,
        key=airway.observed_at.isoformat(),
    )
