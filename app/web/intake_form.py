"""An intake as a form sends it, read into what the action takes."""

from datetime import datetime

from app.actions.admit_patient import Admission
from app.actions.take_in import Intake
from app.charting.airway_told import AirwayTold
from app.charting.check import TypedCheck
from app.charting.facts import Kind
from app.charting.mode_families import MODE_FAMILIES
from app.charting.typed_check import Objection
from app.charting.typed_sheet import SheetHeldUp, SheetRead, standing_sheet
from app.pages.fill import FillSheet
from app.pages.intake import AIRWAY, MACHINE, MODE
from app.web.airway_form import airway_typed
from app.web.orders_form import order_of

MODE_ALONE = "With a mode, write the oxygen at the start, or leave both to the first check."


def intake_of(bed: str, unit_id: str, sheet: FillSheet) -> Intake:
    """The intake. Raises SheetHeldUp for what cannot be read, and OrderRefused."""
    texts = {code: text for code, text in sheet.typed.items() if code not in (*MACHINE, MODE)}
    typed = standing_sheet(texts, sheet.accepted)
    order = order_of(typed, sheet.observed_at)
    return Intake(
        bed=bed,
        admission=_admission(unit_id, sheet.observed_at, typed),
        order=order if order.says_something else None,
        machine=_machine(sheet),
        accepted=sheet.accepted,
    )


def _admission(unit_id: str, started: datetime, typed: SheetRead) -> Admission:
    age = typed.number("age_y")
    return Admission(
        unit_id=unit_id,
        record_number=typed.word("mrn"),
        name=typed.word("name"),
        support_started_at=started,
        birth_date=typed.day("birth_date"),
        age_y=int(age) if age is not None else None,
        pbw_sex=typed.word("pbw_sex"),
        height_cm=typed.number("height_cm"),
        height_method=typed.word("height_method"),
        code_limits=typed.word("code_limits"),
        isolation=typed.word("isolation"),
        allergies=typed.word("allergies"),
        reason_for_support=typed.word("reason_for_support"),
        airway=_airway(typed),
    )


def _airway(typed: SheetRead) -> AirwayTold | None:
    """The airway; None where nothing of it was filled in."""
    if not any(code in typed.values for code in AIRWAY):
        return None
    return airway_typed(typed)


def _machine(sheet: FillSheet) -> TypedCheck | None:
    """Machine, mode and oxygen at the start as a row; None where nothing of it was filled in."""
    typed = {code: sheet.typed[code] for code in MACHINE if code in sheet.typed}
    family = sheet.typed.get(MODE, "")
    if not typed:
        if family:
            raise SheetHeldUp((Objection("fio2_set", "refused", MODE_ALONE),))
        return None
    return TypedCheck(
        kind=Kind.EVENT,
        observed_at=sheet.observed_at,
        mode_family=family if family in MODE_FAMILIES else "",
        typed=typed,
        accepted=sheet.accepted,
    )
