"""How people write the units that may stand behind a number, and what the number is in another.

The arithmetic of units is physiology's; here stands only which words a field understands.
"""

import unicodedata
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Context, Decimal
from types import MappingProxyType

from app.charting.field import Field
from app.physiology.units import convert

_SPELLINGS: Mapping[str, tuple[str, ...]] = {
    "%": ("percent", "pct"),
    "cmH2O": ("cm h2o", "cmwater"),
    "mmHg": ("torr",),
    "kPa": (),
    "hPa": (),
    "mbar": (),
    "mL": ("cc", "milliliter", "millilitre"),
    "L": ("l", "liter", "litre"),
    "L/min": ("lpm", "l/m"),
    "/min": ("bpm", "1/min", "min-1", "breaths/min", "per min"),
    "s": ("sec", "secs", "seconds"),
    "cm": (),
    "m": (),
    "in": ("inch", "inches", '"'),
    "mm": (),
    "kg": ("kgs",),
    "lb": ("lbs",),
    "°C": ("c", "degc", "celsius"),
    "°F": ("f", "degf", "fahrenheit"),
    "°": ("deg", "degrees"),
    "y": ("yr", "years"),
    "mmol/L": (),
    "g/dL": (),
    "g/L": (),
    "mL/kg PBW": ("ml/kg",),
    "ppm": (),
}


def _key(text: str) -> str:
    return unicodedata.normalize("NFKC", text).casefold().replace(" ", "")


WORDS: Mapping[str, str] = MappingProxyType(
    {_key(word): unit for unit, words in _SPELLINGS.items() for word in (unit, *words)}
)
"""Every accepted spelling, capitals and spaces aside, to the unit that it means."""

CONVERTED_PLACES = Decimal("0.0001")
"""A converted number is kept to four decimals: far below what any field shows."""


_ROOMY = Context(prec=60)


def unit_of(text: str, field: Field) -> str | None:
    """The unit that this text means in this field; None where the field does not take it."""
    unit = WORDS.get(_key(text))
    return unit if unit in field.accepted_units else None


def canonical(number: Decimal, unit: str, field: Field) -> Decimal:
    """The number in the field's own unit: as typed where nothing is converted, else 4 decimals."""
    if unit in ("", field.unit):
        return number
    exact = convert(number, unit, field.unit).quantize(CONVERTED_PLACES, ROUND_HALF_UP, _ROOMY)
    return Decimal(spelled(exact))


def spelled(number: Decimal) -> str:
    """The shortest way to write a number out: no exponent, no trailing zeros, no minus zero."""
    text = f"{number:f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
