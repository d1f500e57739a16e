"""From a keyboard's text to one decimal number and the unit written behind it, or to what is wrong.

A number is read only if it can be read in one way. Ten-fold slips are the commonest errors of
number entry, and refusing malformed input halves them (Thimbleby and Cairns, J R Soc Interface
2010), so nothing is guessed: not a letter o, not a space inside, not a range.
"""

import re
import unicodedata
from decimal import Decimal

from msgspec import Struct

LONGEST = 40
"""Characters of a typed number with its unit; longer text is a slip (engineering judgement)."""
MOST_DECIMALS = 6

_MINUS = "-‐‑‒–−﹣－"
_POINTS = ".,٫．，"
_NUMBER = re.compile(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)", re.ASCII)
_SHAPE = r"[+-]?\d*\.?\d+"
_FAULTS: tuple[tuple[str, re.Pattern[str], str], ...] = (
    (
        "comparison",
        re.compile(r"[<>≤≥=~≈±]|(?:ca|about|over|under)\b", re.IGNORECASE),
        "is a limit or an estimate. Write the number that was read.",
    ),
    (
        "two_numbers",
        re.compile(rf"{_SHAPE}\s*(?:-|/|\.\.|to\b|and\b|\+)\s*{_SHAPE}", re.IGNORECASE),
        "is two numbers. Write the one that was read.",
    ),
    ("space", re.compile(rf"{_SHAPE}\s+[\d.]"), "has a space inside. Write the digits together."),
    (
        "exponent",
        re.compile(rf"{_SHAPE}e[+-]?\d+$", re.IGNORECASE),
        "is short for another number. Write the digits out.",
    ),
    ("two_points", re.compile(r"[+-]?[\d.]*\.\d*\.[\d.]*"), "has more than one decimal point."),
    ("letters", re.compile(r"[+-]?\d+[oOlI|SsBZ]+\d*$"), "has letters among the digits."),
)


class Typed(Struct, frozen=True):
    """One number as it was typed: its value, the text of its unit, and whether it had a point."""

    number: Decimal
    unit: str
    has_point: bool

    @property
    def grouped(self) -> Decimal | None:
        """The other number it could mean if the point parts thousands: 1.200 is 1200 to some."""
        sign, digits, exponent = self.number.as_tuple()
        if exponent != -3 or sign or not 4 <= len(digits) <= 6:
            return None
        return self.number.scaleb(3)


class Slip(Struct, frozen=True):
    """Text that is not one number: a stable code, and what is wrong in a reader's words."""

    code: str
    what: str


def plain(typed: str) -> str:
    """The text with every script's digits, points and minus signs as ASCII, and its ends bare."""
    return _bare("".join(_ascii(sign) for sign in typed))


def _ascii(sign: str) -> str:
    digit = unicodedata.decimal(sign, None)
    if digit is not None:
        return str(digit)
    if sign in _MINUS:
        return "-"
    if sign in _POINTS:
        return "."
    return " " if sign.isspace() else sign


def _bare(text: str) -> str:
    """Without spaces and invisible signs (direction marks beside Arabic digits) at either end."""
    start, end = 0, len(text)
    while start < end and _invisible(text[start]):
        start += 1
    while end > start and _invisible(text[end - 1]):
        end -= 1
    return text[start:end]


def _invisible(sign: str) -> bool:
    return sign == " " or unicodedata.category(sign) == "Cf"


def read_number(typed: str) -> Typed | Slip | None:
    """One number with the unit's text behind it; what is wrong; None for a blank.

    A unit stands behind a space ("400 mL"), so that no letter can pass for a digit; the percent
    sign alone may touch its number. Invisible signs alone are no blank: somebody typed something.
    """
    if not typed.strip():
        return None
    text = plain(typed)
    if len(text) > LONGEST:
        return Slip("too_long", f"is longer than {LONGEST} characters.")
    match = _NUMBER.match(text)
    rest = text[match.end() :] if match else ""
    if match is None or _is_broken(rest):
        return _what_is_wrong(text)
    return _typed(match[0], rest.strip())


def _is_broken(rest: str) -> bool:
    unit = rest.strip()
    glued = bool(rest) and not rest.startswith((" ", "%"))
    return glued or unit[:1].isdigit() or unit.startswith((".", "-", "+"))


def _typed(number: str, unit: str) -> Typed | Slip:
    whole, _, decimals = number.partition(".")
    if len(decimals) > MOST_DECIMALS:
        return Slip("decimals", f"has more than {MOST_DECIMALS} decimals.")
    value = Decimal(number.rstrip(".")) if decimals else Decimal(whole)
    return Typed(abs(value) if value.is_zero() else value, unit, bool(decimals))


def _what_is_wrong(text: str) -> Slip:
    for code, pattern, what in _FAULTS:
        if pattern.match(text):
            return Slip(code, what)
    number = _NUMBER.match(text)
    if number and text[number.end() :].strip()[:1].isalpha():
        spaced = f"{number[0]} {text[number.end() :].strip()}"
        return Slip("unit_glued", f"has no space before its unit. Write “{spaced}”.")
    return Slip("not_a_number", "is not a number.")


def quoted(typed: str, longest: int = 24) -> str:
    """Somebody's text inside a sentence: on one line, cut short, control signs left out."""
    shown = "".join(sign if sign.isprintable() else " " for sign in typed.strip())
    return f"“{shown[:longest]}…”" if len(shown) > longest else f"“{shown}”"
