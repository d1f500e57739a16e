"""Conversion between the units of the trade.

pint does the dimensions, from a small registry file of our own (units.txt); it is imported at the
first conversion, since a start-up must not pay for it. Factors are exact fractions, so 8.05 L/min
in mL/min is 8050 and no tie is lost on the way to the screen.
"""

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from functools import cache, lru_cache
from importlib.resources import as_file, files
from types import MappingProxyType
from typing import Any

from app.physiology.errors import UnknownUnitError, WrongDimensionError

SPELLINGS: Mapping[str, str] = MappingProxyType(
    {
        "": "fraction",
        "-": "fraction",
        "–": "fraction",
        "1": "fraction",
        "ratio": "fraction",
        "te/ti": "fraction",
        "s/f": "fraction",
        "ph": "fraction",
        "%": "percent",
        "°c": "degC",
        "°f": "degF",
        "c": "degC",
        "f": "degF",
        "bpm": "breath/min",
    }
)
"""How people write units that a parser would not read; dimensionless words are one thing."""

_ATOM = r"[A-Za-z][A-Za-z0-9]*"
_GRAMMAR = re.compile(rf"1?/?{_ATOM}(?:[/*](?:{_ATOM}|\({_ATOM}(?:[/*]{_ATOM})*\)))*")
_LONGEST = 40


@cache
def _registry() -> Any:  # noqa: ANN401  (pint's registry class is built at run time)
    import pint

    with as_file(files("app.physiology") / "units.txt") as path:
        return pint.UnitRegistry(str(path), non_int_type=Fraction, cache_folder=None)


@cache
def _names() -> Mapping[str, str]:
    return {name.casefold(): name for name in _registry()._units if name}


def _known(match: re.Match[str]) -> str:
    word = match[0].casefold()
    name = _names().get(word) or _names().get(word.removesuffix("s"))
    if name is None:
        raise UnknownUnitError(match[0])
    return name


@lru_cache(maxsize=512)
def read_unit(text: str) -> str:
    """The registry's own spelling of a unit: "mmHg (displayed)" is mmHg, "/min" is 1/min.

    Notes in brackets after a space, "gauge" and the gas of a flow ("L O2/min") say what is
    measured, not in what. Raises UnknownUnitError for anything else that the registry lacks.
    """
    if len(text) > _LONGEST:
        raise UnknownUnitError(text)
    plain = re.sub(r"\s+\(.*\)$|\s+gauge$", "", text.strip().replace("₂", "2"))
    plain = plain.replace("L O2/", "L/").replace("·", "*").replace(" ", "")
    if plain.casefold() in SPELLINGS:
        return SPELLINGS[plain.casefold()]
    if not _GRAMMAR.fullmatch(plain):
        raise UnknownUnitError(text)
    try:
        named = re.sub(_ATOM, _known, plain)
    except UnknownUnitError:
        raise UnknownUnitError(text) from None
    return f"1{named}" if named.startswith("/") else named


@lru_cache(maxsize=512)
def _line(from_unit: str, to_unit: str) -> tuple[Fraction, Fraction]:
    """Factor and offset of a conversion: every one here is a straight line."""
    source, target = read_unit(from_unit), read_unit(to_unit)
    import pint

    try:
        zero, one = (_registry().convert(Fraction(n), source, target) for n in (0, 1))
    except (pint.DimensionalityError, pint.OffsetUnitCalculusError):
        # pint's own text cannot be printed with fractions inside
        raise WrongDimensionError(from_unit, to_unit) from None
    return Fraction(one - zero), Fraction(zero)


def convert(number: Decimal, from_unit: str, to_unit: str) -> Decimal:
    """The same quantity in another unit, exact to 28 digits.

    A number that already is in the wanted unit keeps the places it was typed with. Raises
    UnknownUnitError or WrongDimensionError, both of the room's own family.
    """
    if read_unit(from_unit) == read_unit(to_unit):
        return number
    factor, offset = _line(from_unit, to_unit)
    exact = Fraction(number) * factor + offset
    return Decimal(exact.numerator) / Decimal(exact.denominator)


def same_unit(one: str, other: str) -> bool:
    """Whether two texts name one unit ("/min" and "breaths/min" do not, though they convert)."""
    return read_unit(one) == read_unit(other)
