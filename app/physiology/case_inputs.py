"""From one case of a file to an index's inputs: numbers, units and mode words are read here.

A file may hold anything, so nothing here trusts a type: what cannot be read ends the case with a
question, and the next case is read as if it had not been there.
"""

import re
from collections.abc import Mapping
from decimal import Decimal

from app.physiology.answer import Given
from app.physiology.breathing import UNKNOWN, Mode, read_mode
from app.physiology.catalogue import Index, Input
from app.physiology.errors import UnknownUnitError, WrongDimensionError
from app.physiology.units import convert, read_unit
from app.physiology.vocabulary import TERMS, doubt_about_kpa
from app.physiology.working import asked, unavailable

Case = Mapping[str, object]

_NUMBERS = (int, float, Decimal)
MODE_WORDS = ("mode", "support", "mode_family", "family")
_NUMBER = re.compile(r"[+-]?\d{1,18}(?:\.\d{1,30})?")
_NO_NUMBERS = frozenset({"nan", "inf", "+inf", "-inf", "infinity", "+infinity", "-infinity"})
_GREATEST, _LEAST, _MOST_DIGITS = 12, -15, 60
"""Powers of ten and digits beyond which a number is a slip whatever it measures."""


def read_case(index: Index, inputs: Case, units: Case) -> Given:
    """The inputs that this index reads, in its own units; raises `Refused` with the case's answer.

    What the index does not read is left alone, so a stray unit elsewhere spoils nothing.
    """
    given: dict[str, Decimal | str | bool | None] = {}
    for wanted in index.inputs:
        if wanted.name in ("from", "to"):
            given[wanted.name] = _text(units.get(wanted.name))
        elif wanted.name in inputs and wanted.name != "family":
            given[wanted.name] = _read(wanted, inputs[wanted.name], units)
    _add_mode(given, index, inputs)
    return given


def unread(inputs: Case) -> list[str]:
    """Names of inputs that nobody here knows, so that a slip in a name does not pass in silence."""
    return [str(name)[:40] for name in inputs if name not in TERMS and name not in MODE_WORDS]


def _read(wanted: Input, raw: object, units: Case) -> Decimal | str | bool | None:
    if TERMS[wanted.name].kind != "number":
        return _word(wanted, raw)
    number = _number(wanted, raw)
    if isinstance(number, Decimal) and wanted.name != "value":
        return _converted(wanted, number, units)
    return number


def _word(wanted: Input, raw: object) -> str | bool | None:
    if raw is None or isinstance(raw, str | bool):
        return raw
    if isinstance(raw, _NUMBERS):
        return str(raw)
    raise asked(f"{wanted.label}: a word is expected")


def _number(wanted: Input, raw: object) -> Decimal | str | bool | None:
    """The number; text that is none stays as the reason why there is no number."""
    if raw is None or isinstance(raw, bool):
        return raw
    if isinstance(raw, int | float):
        return _sized(wanted, Decimal(repr(raw)))
    if isinstance(raw, Decimal):
        return _sized(wanted, raw)
    if isinstance(raw, str):
        return _number_in_text(wanted, raw.strip())
    raise asked(f"{wanted.label}: a number is expected")


def _number_in_text(wanted: Input, text: str) -> Decimal | str | None:
    if _NUMBER.fullmatch(text):
        return Decimal(text)
    if text.casefold() in _NO_NUMBERS or text[:1] in set("+-.,0123456789−"):
        if text:
            raise asked(f"{wanted.label} {text[:40]!r} is not a number")
        return None
    return text[:200] or None


def _sized(wanted: Input, number: Decimal) -> Decimal:
    if not number.is_finite():
        raise asked(f"{wanted.label} is not a number")
    within = number.is_zero() or _LEAST <= number.adjusted() <= _GREATEST
    if not within or len(number.as_tuple().digits) > _MOST_DIGITS:
        raise asked(f"{wanted.label} is far outside anything that can be measured")
    return abs(number) if number.is_zero() else number


def _converted(wanted: Input, number: Decimal, units: Case) -> Decimal:
    unit = _unit(wanted, units)
    try:
        if read_unit(unit) == "kPa":
            _refuse(doubt_about_kpa(wanted.name, number))
        return convert(number, unit, wanted.unit)
    except UnknownUnitError as problem:
        raise unavailable(f"unit of {wanted.name}: {problem}") from None
    except WrongDimensionError as problem:
        raise asked(f"unit of {wanted.name}: {problem}") from None


def _refuse(doubt: str | None) -> None:
    if doubt:
        raise asked(doubt)


def _unit(wanted: Input, units: Case) -> str:
    """The unit that the case names for an input; `pressures` speaks for all in cmH2O."""
    raw = units.get(wanted.name)
    if raw is None and wanted.unit == "cmH2O":
        raw = units.get("pressures")
    if raw is None or raw == "displayed":
        return wanted.unit
    if not isinstance(raw, str):
        raise unavailable(f"unit of {wanted.name} is not a word")
    return raw


def _text(raw: object) -> str | None:
    return raw if isinstance(raw, str) else None


def _add_mode(given: dict[str, Decimal | str | bool | None], index: Index, inputs: Case) -> None:
    names = {wanted.name for wanted in index.inputs}
    mode = _mode(inputs) if "family" in names else None
    if mode is None:
        return
    given["family"] = mode.family.code
    level = _support_level(inputs, mode)
    if level is not None and "ps" in names:
        given.setdefault("ps", level)
    if mode.triggering:
        # said to be triggering, and nobody said that this breath was passive
        given.setdefault("passive", None)


def _support_level(inputs: Case, mode: Mode) -> Decimal | None:
    """cmH2O: from the mode word ("PS 10"), or a number where the support is named."""
    raw = inputs.get("support")
    if isinstance(raw, str | bool) or raw is None:
        return mode.support
    term = TERMS["ps"]
    number = _number(Input(term.name, term.label, term.unit, required=False), raw)
    return number if isinstance(number, Decimal) else None


def _mode(inputs: Case) -> Mode | None:
    """The mode that the case names, under either of its two names; None where it names none."""
    said = [inputs[name] for name in MODE_WORDS if inputs.get(name) not in (None, "")]
    said = [raw for raw in said if isinstance(raw, bool) or not isinstance(raw, _NUMBERS)]
    modes = [read_mode(word) if isinstance(word, str) else Mode(UNKNOWN) for word in said]
    if not modes:
        return None
    *_, last = modes
    if any(not _agree(mode, last) for mode in modes):
        raise asked("mode and support name two different modes")
    return last


def _agree(one: Mode, other: Mode) -> bool:
    return one.family is other.family or (one.family.spontaneous and other.family.spontaneous)
