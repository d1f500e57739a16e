"""A number before rounding, written out: every digit, or as many as a reader can use."""

from decimal import Decimal

from app.charting.shown import signed
from app.charting.unit_words import spelled

MOST_DECIMALS = 6


def exact_words(number: Decimal, unit: str) -> str:
    """The number with its unit; digits after the sixth decimal are cut off behind an ellipsis."""
    whole, _, decimals = spelled(number).partition(".")
    text = whole
    if decimals:
        cut = "…" if len(decimals) > MOST_DECIMALS else ""
        text = f"{whole}.{decimals[:MOST_DECIMALS]}{cut}"
    return signed(f"{text} {unit}".rstrip())
