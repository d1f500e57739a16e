"""The check form in its states: fresh, half typed with a refusal and a question, and not saved."""

from app.pages.assess_page import AssessPage, Complaint, FieldGroup, FieldInput, LiveIndices, Option
from tests.browser.sample_frame import banner, blank, frame, over, shut, worked

REASONS = tuple(
    Option(value, label)
    for value, label in (("effort", "patient effort"), ("unable", "unable"), ("refused", "refused"))
)
FAMILIES = (
    Option("ac_vc", "Volume control", chosen=True),
    Option("csv_ps", "Pressure support"),
    Option("hfnc", "High flow"),
)


def setting(code: str, label: str, unit: str, last: str, **more: object) -> FieldInput:
    given: dict[str, object] = {
        "code": code,
        "label": label,
        "shape": "number",
        "unit": unit,
        "typed": "",
        "required": True,
        "last": f"{last}, 23:30",
        "last_value": last,
    }
    return FieldInput(**(given | more))  # type: ignore[arg-type]


def reading(code: str, label: str, unit: str, typed: str = "", **more: object) -> FieldInput:
    given: dict[str, object] = {
        "code": code,
        "label": label,
        "shape": "number",
        "unit": unit,
        "typed": typed,
        "required": True,
        "reasons": REASONS,
    }
    return FieldInput(**(given | more))  # type: ignore[arg-type]


def choice(code: str, label: str, words: tuple[str, ...]) -> FieldInput:
    options = tuple(Option(word, word) for word in words)
    return FieldInput(code, label, "choice", "", "", required=False, options=options)


def groups(half: bool) -> tuple[FieldGroup, ...]:
    typed = {"peep_set": "100", "vte": "40", "fio2_set": "0.4"} if half else {}
    refused = "PEEP 100 is refused: this field takes 0 to 50." if half else ""
    asked = "40 mL? It was 365 at 23:30, 89 % lower." if half else ""
    tagged = "Charted, and not used for mechanics in this mode." if half else ""
    machine = (
        setting(
            "fio2_set",
            "FiO2",
            "%",
            "45",
            typed=typed.get("fio2_set", ""),
            echo="40 %" if half else "",
        ),
        setting("peep_set", "PEEP", "cmH2O", "12", typed=typed.get("peep_set", ""), error=refused),
        setting("vt_set", "Tidal volume", "mL", "360", kept=half),
        setting("rate_set", "Rate", "/min", "20", kept=half),
        setting("flow_set", "Flow", "L/min", "60", required=False),
    )
    read = (
        reading("rate_total", "Rate, total", "/min", "22" if half else ""),
        reading(
            "vte",
            "Tidal volume, expired",
            "mL",
            typed.get("vte", ""),
            question=asked,
            question_code="vte:jump" if half else "",
            last="365, 23:30",
        ),
        reading("ppeak", "Peak pressure", "cmH2O"),
        reading("pplat", "Plateau", "cmH2O", note=tagged),
        reading("peep_total", "Total PEEP", "cmH2O"),
    )
    tube = (
        setting("depth", "Depth", "cm", "22"),
        choice("depth_at", "at", ("lip", "teeth", "naris")),
        reading("cuff", "Cuff, by manometer", "cmH2O", required=False, help="20 to 30 is typical."),
    )
    monitor = (
        reading("heart_rate", "Heart rate", "/min", "88" if half else ""),
        reading("spo2", "SpO2", "%", "94" if half else ""),
    )
    seldom = (
        FieldInput("remark", "Remark", "text", "", "", required=False),
        FieldInput("filter_changed_on", "Filter changed on", "date", "", "", required=False),
        FieldInput("pre_use_at", "Pre-use check at", "moment", "", "", required=False),
    )
    ticks = tuple(
        choice(code, label, ("yes", "no"))
        for code, label in (("safe_bag", "Bag and mask"), ("safe_suction", "Suction works"))
    )
    return (
        FieldGroup("At the monitor", "measured: typed each time", monitor),
        FieldGroup("At the tube", "", tube),
        FieldGroup("Told to the machine", "keep one at a time, after looking", machine),
        FieldGroup("Read at the machine", "measured: typed each time", read),
        FieldGroup("Safe to leave", "", ticks),
        FieldGroup("Seldom charted", "", seldom, folded=True),
    )


def check(**changes: object) -> AssessPage:
    family = FieldInput(
        "mode_family",
        "On",
        "choice",
        "",
        "ac_vc",
        required=True,
        options=FAMILIES,
        last="Volume control, 23:30",
        last_value="Volume control",
    )
    given: dict[str, object] = {
        "frame": frame("Full check"),
        "banner": banner(),
        "heading": "Full check",
        "kind": "full",
        "action": "/courses/5/assess",
        "live_href": "/courses/5/assess/live",
        "back_href": "/courses/5",
        "observed_at": "2026-11-26T02:03",
        "observed_at_error": "",
        "zone": "EST",
        "family": family,
        "groups": groups(half=False),
        "complaints": (),
        "live": LiveIndices(()),
        "save_key": "k-1",
    }
    return AssessPage(**(given | changes))  # type: ignore[arg-type]


def half_typed() -> AssessPage:
    complaints = (
        Complaint("peep_set", "PEEP", "100 is refused, this field takes 0 to 50"),
        Complaint("vte", "Tidal volume, expired", "40 mL? It was 365 at 23:30"),
        Complaint("", "This check", "Not filled: Ppeak, Pplat. Save without them?", "not-filled"),
    )
    live = (
        blank("Volume / kg", "waits for your answer on 40 mL"),
        over("Driving pressure", "16", "over 15"),
        shut("Compliance", "plateau not done: effort"),
        worked("S/F", "235", word="SpO2 94 on 40 %"),
    )
    return check(
        groups=groups(half=True),
        complaints=complaints,
        live=LiveIndices(live),
        observed_at_error="This is 40 min in the future.",
    )


def not_saved() -> AssessPage:
    return check(
        not_saved="The record cannot be written now. What you typed still stands below.",
        already_saved="This check was saved at 02:04 by you.",
        already_saved_href="/courses/5",
        groups=groups(half=True),
    )
