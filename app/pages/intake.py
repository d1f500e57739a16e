"""Build the intake of an empty bed: one form whose every part but two identifiers may wait."""

from datetime import date, datetime

from msgspec import Struct

from app.charting.mode_families import MODE_FAMILIES
from app.charting.typed_sheet import SheetRead, read_sheet
from app.pages.assess_page import Option
from app.pages.fill import FillSheet, section, time_of
from app.pages.fill_page import Blank, FillForm, FillSection, WeightCard
from app.pages.frame import Frame, NavLink
from app.pages.row import asks_of
from app.pages.targets import order_section
from app.pages.worries import ADULT_OFF
from app.physiology.answer import NotAvailable, Value
from app.physiology.catalogue import CATALOGUE
from app.physiology.volume_table import volumes
from app.rules.unit_clock import UnitClock

WHO = ("name", "mrn", "birth_date", "age_y")
MORE = ("reason_for_support", "code_limits", "isolation", "allergies")
BODY = ("height_cm", "height_method", "pbw_sex")
AIRWAY = (
    "airway_category",
    "airway_size_mm",
    "airway_depth_cm",
    "airway_depth_reference",
    "airway_side",
    "difficult_airway",
    "tube_type",
    "stoma_on",
    "confirmed_by",
    "confirmed_co2",
    "confirmed_ears",
    "confirmed_image",
)
MACHINE = (
    "device_id",
    "pre_use_check",
    "pre_use_check_passed_at",
    "safe_expiratory_filter",
    "humidifier",
    "safe_humidifier_filled",
    "fio2_set",
)
ORDER = (
    "ordered_by",
    "spo2_band",
    "spo2_target_low",
    "spo2_target_high",
    "pao2_target_low",
    "pao2_target_high",
    "ph_target_low",
    "ph_target_high",
    "paco2_target_low",
    "paco2_target_high",
    "volume_target",
)
CODES = (*WHO, *MORE, *BODY, *AIRWAY, *MACHINE, *ORDER)
MODE = "mode_family"
VOLUMES_SOURCE = "4 to 8 mL/kg: ATS/ESICM/SCCM guideline 2017"


class IntakePage(Struct, frozen=True):
    """The form for one empty bed."""

    frame: Frame
    heading: str
    lead: str
    form: FillForm
    banner: None = None
    """Nobody is in the bed yet."""


def intake_page(
    frame: Frame,
    bed: str,
    sheet: FillSheet,
    clock: UnitClock,
    now: datetime,
    *,
    adult_age_y: int,
) -> IntakePage:
    """The form, with every word that was typed still in it, and the weight as far as known."""
    base = f"/beds/{bed}"
    weight = weight_card(sheet, clock.local(now).date(), base, adult_age_y=adult_age_y)
    return IntakePage(
        frame=frame,
        heading=f"Intake at {bed}",
        lead="Name and record number are needed; any other part may wait and stays open to see.",
        form=FillForm(
            action=f"{base}/intake",
            sections=_sections(sheet, weight),
            save_label="Take in",
            save_key=sheet.save_key,
            back_href=base,
            look_label="Look at the weight without saving",
            observed=time_of(sheet, "Support started", clock, now),
            errors=sheet.errors,
            way_out=NavLink("Open that patient", sheet.error_href) if sheet.error_href else None,
            asks=asks_of(sheet.objections),
            accepted=tuple(sorted(sheet.accepted)),
        ),
    )


def _sections(sheet: FillSheet, weight: WeightCard) -> tuple[FillSection, ...]:
    body = section("Body, for the predicted weight", BODY, sheet)
    machine = section("Machine", MACHINE, sheet, "One humidifier only.")
    return (
        section("Who", WHO, sheet, "A birth date or an age; a bed is no identifier."),
        FillSection(body.legend, body.blanks, weight=weight),
        section("Airway", AIRWAY, sheet, "A depth needs the mark at which it was read."),
        FillSection(machine.legend, (*machine.blanks, _mode(sheet)), machine.note),
        order_section(sheet),
        section("As on the patient's record", MORE, sheet),
    )


def _mode(sheet: FillSheet) -> Blank:
    typed = sheet.typed.get(MODE, "")
    options = (Option(m.code, m.label, m.code == typed) for m in MODE_FAMILIES.values())
    return Blank(MODE, "Mode at the start", "choice", typed, options=tuple(options))


def weight_card(sheet: FillSheet, today: date, base: str, *, adult_age_y: int) -> WeightCard:
    """Predicted weight and its volumes, or why there are none; off under the unit's adult age."""
    texts = {code: sheet.typed.get(code, "") for code in (*BODY, "birth_date", "age_y")}
    read = read_sheet(texts, sheet.accepted)
    href, pbw = f"{base}/intake/weight", CATALOGUE["pbw"]
    age = _age(read, today)
    if age is not None and age < adult_age_y:
        return WeightCard(href, ADULT_OFF)
    given = {"sex": read.word("pbw_sex") or None, "height": read.number("height_cm")}
    answer = pbw.work_out(given)
    if not isinstance(answer, Value):
        reason = answer.reason if isinstance(answer, NotAvailable) else "height to be checked"
        return WeightCard(href, f"No predicted weight yet: {reason}")
    lines = tuple((str(per_kg), text) for per_kg, text in volumes(answer.number))
    words = f"Predicted weight {answer.shown} kg"
    return WeightCard(href, words, lines, pbw.formula, f"{pbw.source}; {VOLUMES_SOURCE}")


def _age(read: SheetRead, today: date) -> int | None:
    born = read.day("birth_date")
    if born is None:
        years = read.number("age_y")
        return int(years) if years is not None else None
    return today.year - born.year - ((today.month, today.day) < (born.month, born.day))
