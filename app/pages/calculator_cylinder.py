"""How long a cylinder lasts: by printed litres, by water capacity, or by a letter of the unit.

Letters mean other contents in other countries, so they come last (decision 19).
"""

from collections.abc import Iterator
from decimal import Decimal

from msgspec.structs import replace

from app.pages.assess_page import Option
from app.pages.calculator_answers import UNREAD, answer_of
from app.pages.calculator_inputs import Case, Sheet, read_case
from app.pages.calculator_page import CalcAnswer, CalcInput, CylinderSheet, Ways
from app.physiology.catalogue import CATALOGUE, Index, Input
from app.rules.policy import Cylinders

PRINTED, BY_WATER = CATALOGUE["cylinder_minutes"], CATALOGUE["cylinder_minutes_bar"]
FLOW_OF_DEVICE = ("ve", "fio2", "bias_flow")
LETTER = "letter"

ONE_WAY = "Say what the cylinder holds in one way: printed litres, water capacity or letter."
TWO_WAYS = "The cylinder is described in two ways. Leave one."


def _of(index: Index, *names: str, unit: str = "") -> tuple[Input, ...]:
    by_name = {one.name: one for one in index.inputs}
    found = (replace(by_name[name], required=False) for name in names)
    return tuple(replace(one, unit=unit or one.unit) for one in found)


GAUGE = tuple(replace(one, required=True) for one in _of(BY_WATER, "pressure", "residual"))
BY_LITRES = (*_of(PRINTED, "contents"), *_of(PRINTED, "full_pressure", unit="bar"))
BY_CAPACITY = _of(BY_WATER, "water_capacity")
CONSUMPTION = _of(PRINTED, "flow", *FLOW_OF_DEVICE)
WANTED = (*GAUGE, *BY_LITRES, *BY_CAPACITY, *CONSUMPTION)


def cylinder_sheet(sheet: Sheet, letters: Cylinders) -> CylinderSheet:
    """Minutes at the flow, or at the oxygen that a ventilator draws and at its worst case."""
    case = read_case(sheet, WANTED)
    letter = sheet.text(LETTER)
    answers, words = _answers(case, letter, letters) if case.said or letter else ((), "")
    return CylinderSheet(
        ways=tuple(_ways(sheet, case, letters)),
        formula=f"{PRINTED.formula}; or {BY_WATER.formula}; rounded down to the minute",
        source=str(PRINTED.source),
        letters=tuple((name, f"{factor:f}") for name, factor in letters.factors.items()),
        letters_words=_letters_words(letters),
        answers=answers,
        words=words,
    )


def _letters_words(letters: Cylinders) -> str:
    if not letters.factors:
        return "This unit's policy lists no cylinder letters."
    return f"Kept back by this unit: {letters.reserve_psi:f} psi. Source: {letters.source}"


def _ways(sheet: Sheet, case: Case, letters: Cylinders) -> Iterator[Ways]:
    def inputs(wanted: tuple[Input, ...]) -> tuple[CalcInput, ...]:
        return tuple(sheet.input(one, case.errors.get(one.name, "")) for one in wanted)

    yield Ways("The gauge", inputs(GAUGE))
    yield Ways("What it holds: by printed litres", inputs(BY_LITRES))
    yield Ways("or by water capacity", inputs(BY_CAPACITY))
    if letters.factors:
        yield Ways("or by the unit's list of letters", (_letter_input(sheet, letters),))
    yield Ways("What is drawn: a flow, or what a ventilator draws", inputs(CONSUMPTION))


def _letter_input(sheet: Sheet, letters: Cylinders) -> CalcInput:
    chosen = sheet.text(LETTER)
    offered = tuple(
        Option(name, f"{name}, {factor:f} L/psi", name == chosen)
        for name, factor in letters.factors.items()
    )
    return CalcInput(f"{sheet.place}-{LETTER}", LETTER, "Letter", chosen, False, options=offered)


def _answers(case: Case, letter: str, letters: Cylinders) -> tuple[tuple[CalcAnswer, ...], str]:
    """The answers, or why the cylinder is not known well enough to ask for one."""
    if case.unread:
        return (), UNREAD
    factor = letters.factors.get(letter)
    by_litres = any(one.name in case.inputs for one in BY_LITRES)
    ways = (by_litres, "water_capacity" in case.inputs, factor is not None)
    if sum(ways) != 1:
        return (), TWO_WAYS if any(ways) else ONE_WAY
    index = BY_WATER if ways[1] else PRINTED
    held = dict(case.inputs)
    if factor is not None:
        held["factor"] = factor
    return tuple(_each(index, replace(case, inputs=held))), ""


def _each(index: Index, case: Case) -> Iterator[CalcAnswer]:
    """One answer for each way in which the oxygen may be drawn."""
    by_flow = {name: raw for name, raw in case.inputs.items() if name not in FLOW_OF_DEVICE}
    by_device = {name: raw for name, raw in case.inputs.items() if name != "flow"}
    drawn = any(name in case.inputs for name in FLOW_OF_DEVICE)
    if "flow" in case.inputs or not drawn:
        yield answer_of(index, replace(case, inputs=by_flow), label="at this flow")
    if drawn:
        yield answer_of(index, replace(case, inputs=by_device), label="at this FiO2")
        worst = by_device | {"fio2": Decimal(100)}
        units = case.units | {"fio2": "%"}
        yield answer_of(index, replace(case, inputs=worst, units=units), label="at worst, 100 %")
