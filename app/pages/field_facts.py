"""What the program knows of a field, in words: how it is entered, and what it takes."""

from collections.abc import Iterator

from app.charting.entry import range_words
from app.charting.field import Field, Jump, Manner, Shape
from app.charting.shown import signed
from app.charting.unit_words import spelled
from app.pages.explained_page import Line
from app.rules.policy import Policy
from app.rules.stale import stale_after

ENTRY = {
    Manner.SETTING: "A setting: typed, or confirmed unchanged after looking at it.",
    Manner.READ_OFF: "Read off: typed, or confirmed unchanged after looking at it.",
    Manner.MEASURED: "Measured: typed each time, or marked not measured with the reason; "
    "never carried over from the last check.",
    Manner.STATED: "Stated by a person; nothing is carried over from the last check.",
}


def facts_of(field: Field, policy: Policy) -> tuple[Line, ...]:
    """Every line that holds for the field, in reading order."""
    return tuple(line for line in _lines(field, policy) if line.words)


def _lines(field: Field, policy: Policy) -> Iterator[Line]:
    yield Line("What it is", field.help)
    yield Line("How it is entered", ENTRY[field.manner])
    yield Line("Takes", _takes(field))
    yield Line("Asked about", _asked(field))
    yield Line("Units that may be typed", ", ".join(_units(field)))
    yield Line("Shown with", _places(field))
    hours = stale_after(field.code, policy).total_seconds() / 3600
    yield Line("Too old after", f"{hours:g} h (site setting)")


def _units(field: Field) -> tuple[str, ...]:
    """Only where there is a choice."""
    return field.accepted_units if len(field.accepted_units) > 1 else ()


def _takes(field: Field) -> str:
    if field.shape is Shape.CHOICE:
        return ", ".join(choice.label for choice in field.choices)
    if field.shape is Shape.TEXT:
        return f"words, up to {field.longest} characters"
    return range_words(field)


def _asked(field: Field) -> str:
    parts = (_outside(field), _step(field.jump, field.unit))
    told = " or ".join(part for part in parts if part)
    return f"{told}; kept once somebody says that it is right" if told else ""


def _outside(field: Field) -> str:
    """An end that is refused beyond anyway is never asked about."""
    if field.soft is None or field.hard is None:
        return ""
    soft, hard = field.soft, field.hard
    sides = (("under", soft.low, hard.low), ("over", soft.high, hard.high))
    ends = [
        f"{side} {spelled(end)}" for side, end, last in sides if end is not None and end != last
    ]
    return signed(f"{' or '.join(ends)} {field.unit}".rstrip()) if ends else ""


def _step(jump: Jump | None, unit: str) -> str:
    if jump is None:
        return ""
    by = f"{spelled(jump.by)} {'%' if jump.percent else unit}".rstrip()
    return f"more than {by} from the last value"


def _places(field: Field) -> str:
    if field.shape is not Shape.NUMBER:
        return ""
    decimals = {0: "whole numbers", 1: "one decimal", 2: "two decimals"}[field.places]
    return f"{decimals}, a trailing zero left out" if field.trim else decimals
