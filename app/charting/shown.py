"""How a reading is written on a page: rounded half-up to the field's places, in its own unit."""

from decimal import Decimal

from app.charting.field import Field
from app.charting.unit_words import spelled
from app.physiology.display import fixed, rounded


def shown(field: Field, number: Decimal) -> str:
    """The number alone: "40", "7.40", "7.5"; fields that trim drop a trailing zero (PEEP 5)."""
    in_its_unit = number if field.per == 1 else number * field.per
    if field.trim:
        return spelled(rounded(in_its_unit, field.places))
    return fixed(in_its_unit, field.places)


def with_unit(field: Field, number: Decimal) -> str:
    """The number and its unit, parted by a space; the number alone where there is no unit."""
    return f"{shown(field, number)} {field.unit}".rstrip()


def signed(text: str) -> str:
    """With a true minus sign, for sentences and tables; never for something to be read again."""
    return text.replace("-", "−")
