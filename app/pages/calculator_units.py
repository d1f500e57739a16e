"""One pressure or haemoglobin in every unit that measures it."""

from msgspec.structs import replace

from app.pages.assess_page import Option
from app.pages.calculator_answers import answer_of
from app.pages.calculator_inputs import Case, Sheet, read_case
from app.pages.calculator_page import CalcAnswer, CalcInput, UnitSheet
from app.physiology.catalogue import CATALOGUE, Index

PRESSURES = ("cmH2O", "mmHg", "kPa", "hPa", "mbar", "bar", "psi")
HAEMOGLOBIN = ("g/dL", "g/L")

PRESSURE, HB = CATALOGUE["convert_pressure"], CATALOGUE["convert_hb"]
(VALUE,) = (one for one in PRESSURE.inputs if one.name == "value")


def unit_sheet(sheet: Sheet) -> UnitSheet:
    """The value in the other units of what it measures."""
    case = read_case(sheet, (VALUE,))
    chosen = sheet.text("from")
    source = f"{PRESSURE.source}; {HB.source}"
    value = sheet.input(VALUE, case.errors.get("value", ""))
    inputs = (value, _unit_input(sheet, chosen, said=case.said))
    if not case.said or chosen not in (*PRESSURES, *HAEMOGLOBIN):
        return UnitSheet(inputs, source)
    index, units = (HB, HAEMOGLOBIN) if chosen in HAEMOGLOBIN else (PRESSURE, PRESSURES)
    answers = (_in_unit(index, case, chosen, unit) for unit in units if unit != chosen)
    return UnitSheet(inputs, source, tuple(answers))


def _in_unit(index: Index, case: Case, chosen: str, unit: str) -> CalcAnswer:
    units = case.units | {"from": chosen, "to": unit}
    return answer_of(index, replace(case, units=units), label=f"in {unit}")


def _unit_input(sheet: Sheet, chosen: str, *, said: bool) -> CalcInput:
    named = [(unit, unit) for unit in PRESSURES]
    named += [(unit, f"{unit} haemoglobin") for unit in HAEMOGLOBIN]
    missing = "Choose the unit that the value is in." if said and not chosen else ""
    return CalcInput(
        id=f"{sheet.place}-from",
        name="from",
        label="Unit",
        typed=chosen,
        needed=True,
        options=tuple(Option(unit, label, unit == chosen) for unit, label in named),
        error=missing,
    )
