"""The volume table: what 4 to 8 mL/kg are for a height and a sex."""

from decimal import Decimal

from app.pages.calculator_answers import answer_of
from app.pages.calculator_inputs import Sheet, read_case
from app.pages.calculator_page import VolumeLine, VolumeSheet
from app.physiology.answer import Value
from app.physiology.catalogue import CATALOGUE
from app.physiology.units import convert
from app.physiology.volume_table import volumes

WEIGHT = CATALOGUE["pbw"]
WANTED = tuple(one for one in WEIGHT.inputs if one.name in ("sex", "height", "age_y"))


def volume_sheet(sheet: Sheet) -> VolumeSheet:
    """The weight and its volumes; no weight, no volumes."""
    case = read_case(sheet, WANTED)
    empty = VolumeSheet(
        inputs=tuple(sheet.input(one, case.errors.get(one.name, "")) for one in WANTED),
        formula=WEIGHT.formula,
        source=str(WEIGHT.source),
    )
    if not case.said:
        return empty
    weight = answer_of(WEIGHT, case)
    lines = _lines(case.inputs, case.units) if weight.exact else ()
    return VolumeSheet(empty.inputs, empty.formula, empty.source, weight, lines)


def _lines(inputs: dict[str, object], units: dict[str, object]) -> tuple[VolumeLine, ...]:
    """From the weight before rounding, which the file calculator's float would not keep."""
    height, unit = inputs["height"], units["height"]
    if not isinstance(height, Decimal) or not isinstance(unit, str):
        return ()
    centimetres = convert(height, unit, "cm")
    answer = WEIGHT.work_out({"sex": str(inputs["sex"]), "height": centimetres})
    if not isinstance(answer, Value):
        return ()
    return tuple(VolumeLine(str(per_kg), text) for per_kg, text in volumes(answer.number))
