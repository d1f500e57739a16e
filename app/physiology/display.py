"""How a number becomes the text on the screen.

Decimal half-up (decision 15: 8.05 shows 8.1), a fixed number of places for results, and down to
the whole minute for a cylinder, because the error must fall on the side of more oxygen. Limits are
tested on this text's number (decision 3), so it is the only place where anything is rounded.
"""

from decimal import ROUND_DOWN, ROUND_HALF_UP, Context, Decimal

_ROOMY = Context(prec=60)


def rounded(number: Decimal, places: int) -> Decimal:
    """Half-up to `places` decimals; a zero never carries a minus sign."""
    result = number.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP, _ROOMY)
    return abs(result) if result.is_zero() else result


def fixed(number: Decimal, places: int) -> str:
    """The text with exactly `places` decimals: 8 at one place is "8.0"."""
    return f"{rounded(number, places):f}"


def whole_down(number: Decimal) -> str:
    """Whole units, never more than there are: 690.8 minutes shows "690"."""
    return f"{number.quantize(Decimal(1), ROUND_DOWN, _ROOMY):f}"


def significant(number: Decimal, digits: int = 4) -> str:
    """Rounded half-up to so many digits, trailing zeros dropped: conversions ("7.501", "14.5")."""
    if number.is_zero():
        return "0"
    places = digits - 1 - number.adjusted()
    shown = number.quantize(Decimal(1).scaleb(-places), ROUND_HALF_UP, _ROOMY)
    text = f"{shown:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def typed_places(*numbers: Decimal, most: int) -> int:
    """How many decimals the typed numbers carry, at most `most` (decision 16: driving pressure)."""
    exponents = (number.as_tuple().exponent for number in numbers)
    carried = max((-e for e in exponents if isinstance(e, int)), default=0)
    return min(max(carried, 0), most)
