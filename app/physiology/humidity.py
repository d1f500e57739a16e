"""Water in the gas: what it can hold, what it lacks, and the guideline's ranges.

The ranges of the guideline (mg/L, °C and 100 % relative humidity) cannot all hold at once, so they
are judged apart. Temperatures are those at the Y-piece.
"""

from decimal import Decimal

from app.physiology.answer import Verdict
from app.physiology.working import Inputs, asked, inapplicable, works_out

BODY = Decimal(37)
KELVIN = Decimal("273.15")
HME_LEAST = Decimal(30)
HEATED_MG = (Decimal(33), Decimal(44))
HEATED_C = (Decimal(34), Decimal(41))
"""AARC guideline 2012: mg/L for heat-moisture exchangers and heated humidifiers, °C at the Y."""


def saturated(celsius: Decimal) -> Decimal:
    """mg/L of water in saturated gas: 2.1668 × vapour pressure (Pa) / temperature (K).

    The vapour pressure is Buck's equation (1996 form, from memory); within 0.1 mg/L of the CRC
    table from 20 to 40 °C.
    """
    exponent = (Decimal("18.678") - celsius / Decimal("234.5")) * (
        celsius / (Decimal("257.14") + celsius)
    )
    pascals = Decimal("611.21") * exponent.exp()
    return Decimal("2.1668") * pascals / (celsius + KELVIN)


@works_out("mg/L", 0)
def saturated_absolute_humidity(take: Inputs) -> Decimal:
    """Water in gas saturated at a temperature, mg/L; 43.9 at 37 °C.

    Source: CRC Handbook as reproduced; the equation is Buck's, from memory.
    """
    return saturated(take.number("temp"))


@works_out("%", 0)
def relative_humidity_at_37(take: Inputs) -> Decimal:
    """Water in the gas over what it could hold at 37 °C (or at the temperature given), per cent.

    More water than that temperature holds is asked about. Source: AARC guideline 2012.
    """
    share = take.number("ah") / saturated(take.number_or("temp", str(BODY))) * 100
    if share > Decimal("100.5"):
        raise asked("more water than gas of that temperature holds")
    return share


@works_out("mg/L", 0)
def humidity_deficit_37(take: Inputs) -> Decimal:
    """What the airway must still add to reach saturation at 37 °C, mg/L; none is 0.

    Source: AARC guideline 2012 for the ranges it is read against.
    """
    return max(saturated(BODY) - take.number("ah"), Decimal(0))


@works_out("mL/day", 0)
def water_use_per_day(take: Inputs) -> Decimal:
    """Minute volume (L/min) × absolute humidity (mg/L) × 1440 / 1000, mL a day.

    From dry gas, nothing recovered, 1 g of water taken as 1 mL. Arithmetic.
    """
    return take.above_zero("ve") * take.number("ah") * 1440 / 1000


@works_out("", 0)
def humidifier_check(take: Inputs) -> Verdict:
    """Where a device lies against the guideline: an HME's mg/L; a heated humidifier's mg/L and °C.

    Any other device gives no verdict. Source: AARC guideline 2012.
    """
    device = (take.word("device") or "").replace("-", "_")
    if device.startswith("hme"):
        return Verdict(_least(take.number("ah")))
    if device.startswith("heated"):
        return Verdict(_within(take.number("ah"), take.number("temp")))
    raise inapplicable("only for a heated humidifier or a heat-moisture exchanger")


def _least(water: Decimal) -> str:
    return f"below {HME_LEAST}" if water < HME_LEAST else f"at least {HME_LEAST}"


def _within(water: Decimal, celsius: Decimal) -> str:
    (dry, wet), (cool, warm) = HEATED_MG, HEATED_C
    faults = [*_outside(water, dry, wet), *_outside(celsius, cool, warm)]
    return " and ".join(faults) if faults else f"within {dry}–{wet} and {cool}–{warm}"


def _outside(number: Decimal, low: Decimal, high: Decimal) -> list[str]:
    if number < low:
        return [f"below {low}"]
    return [f"above {high}"] if number > high else []
