"""Pressure and haemoglobin from one unit into another."""

from decimal import Decimal

from app.physiology.display import fixed, significant
from app.physiology.errors import UnitError
from app.physiology.units import convert
from app.physiology.working import Inputs, Worked, asked, unavailable, works_out

LEAST_HB, MOST_HB = Decimal(1), Decimal(26)
"""g/dL, the hard entry range (engineering judgement): g/L in a g/dL field is asked about."""


@works_out("", 0)
def convert_pressure(take: Inputs) -> Worked:
    """A pressure in another unit, shown to four significant digits; below zero is allowed.

    cmH2O is the conventional one, 2 % off the millibar. Unknown units give no value.
    Source: NIST SP 811, appendix B (from memory).
    """
    number = take.number("value")
    _between(take, number, "kPa")
    result = _between(take, number)
    return Worked(result, shown=significant(result), unit=_unit(take, "to"))


@works_out("", 0)
def convert_hb(take: Inputs) -> Worked:
    """Haemoglobin between g/dL and g/L: one is ten of the other.

    Outside 1 to 26 g/dL the unit is asked about. Arithmetic.
    """
    number = take.number("value")
    grams = _between(take, number, "g/dL")
    if not LEAST_HB <= grams <= MOST_HB:
        where = f"over {MOST_HB}" if grams > MOST_HB else f"under {LEAST_HB}"
        raise asked(f"haemoglobin {grams.normalize():f} g/dL is {where}: in which unit?")
    result, target = _between(take, number), _unit(take, "to")
    places = 1 if target.casefold() == "g/dl" else 0
    return Worked(result, shown=fixed(result, places), unit=target)


def _between(take: Inputs, number: Decimal, target: str | None = None) -> Decimal:
    try:
        return convert(number, _unit(take, "from"), target or _unit(take, "to"))
    except UnitError as problem:
        raise unavailable(str(problem), "from", "to") from None


def _unit(take: Inputs, name: str) -> str:
    text = take.text(name)
    if text is None:
        raise unavailable(f"unit to convert {name} is not known", name)
    return text
