"""The index catalogue as its template reads it, built from the code's own catalogue."""

from inspect import unwrap
from typing import get_type_hints

from msgspec import Struct

from app.charting.derive import CHARTED
from app.pages.calculator_inputs import units_of
from app.pages.frame import Frame
from app.pages.index_groups import INDEX_GROUPS
from app.physiology.answer import Verdict
from app.physiology.catalogue import Index, Input

SHOWN_OTHERWISE = {
    "driving_pressure": "whole numbers; one decimal where a typed value carries one",
    "auto_peep": "whole numbers; one decimal where a typed value carries one",
    "ie_ratio": "as 1:x or x:1, one decimal",
    "cylinder_minutes": "whole minutes, rounded down",
    "cylinder_minutes_bar": "whole minutes, rounded down",
    "convert_pressure": "four significant digits",
    "convert_hb": "one decimal in g/dL, none in g/L",
}
"""Indices that are not simply shown with their fixed number of places."""

_DECIMALS = {0: "whole numbers", 1: "one decimal", 2: "two decimals", 3: "three decimals"}


class InputWords(Struct, frozen=True):
    """One input: its label, the units that are taken, and whether a result needs it."""

    label: str
    units: str
    needed: bool


class IndexEntry(Struct, frozen=True):
    """One index of the catalogue."""

    key: str
    label: str
    short: str
    unit: str
    shown_with: str
    formula: str
    valid_when: str
    source: str
    inputs: tuple[InputWords, ...]
    where: str
    """Whether the chart works it out, or only the calculator."""
    calculator_href: str


class EntryGroup(Struct, frozen=True):
    """Indices under one heading."""

    heading: str
    anchor: str
    entries: tuple[IndexEntry, ...]


class CataloguePage(Struct, frozen=True):
    """Every index that the program can work out."""

    frame: Frame
    groups: tuple[EntryGroup, ...]


def catalogue_page(frame: Frame) -> CataloguePage:
    """Every index under its heading, straight from the catalogue."""
    groups = (
        EntryGroup(heading, f"group-{number}", tuple(map(_entry, indices)))
        for number, (heading, indices) in enumerate(INDEX_GROUPS, start=1)
    )
    return CataloguePage(frame, tuple(groups))


def _entry(index: Index) -> IndexEntry:
    return IndexEntry(
        key=index.key,
        label=index.label,
        short=index.short_label,
        unit=index.unit,
        shown_with=shown_with(index),
        formula=index.formula,
        valid_when=index.valid_when,
        source=str(index.source),
        inputs=tuple(map(_input, index.inputs)),
        where="worked out from the chart" if index.key in CHARTED else "by hand, in the calculator",
        calculator_href=f"/calculator?sheet=index&index={index.key}",
    )


def _input(wanted: Input) -> InputWords:
    return InputWords(wanted.label, " or ".join(units_of(wanted)), wanted.required)


def shown_with(index: Index) -> str:
    """How many decimals the page shows, or that the answer is a word."""
    if gives_a_word(index):
        return "a word"
    return SHOWN_OTHERWISE.get(index.key) or _DECIMALS[index.places]


def gives_a_word(index: Index) -> bool:
    """Whether the index answers with a word instead of a number, by what its function returns."""
    return bool(get_type_hints(unwrap(index.work_out))["return"] is Verdict)
