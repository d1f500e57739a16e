"""The check form in its states: fresh, half typed with a refusal and a question, and not saved."""

from app.pages.assess_page import (
    Ask,
    AssessPage,
    Bound,
    Complaint,
    FieldGroup,
    FieldInput,
    LiveIndices,
    ObservedInput,
    Option,
    Says,
)
from app.pages.drafts import KeptDraft
from app.pages.frame import Locks
from app.pages.identity import IdentityQuestion
from tests.browser.sample_frame import at, banner, blank, frame, over, shut, worked
from tests.browser.sample_identity import identity_and_bed

REASONS = tuple(
    Option(value, label, letter=value[:1])
    for value, label in (("effort", "effort"), ("unable", "unable"), ("refused", "refused"))
)
FAMILIES = (
    Option("ac_vc", "Volume control", chosen=True),
    Option("csv_ps", "Pressure support"),
    Option("hfnc", "High flow"),
    Option("other", "T-piece, tracheostomy or other oxygen mask"),
)


def setting(code: str, label: str, unit: str, last: str, **more: object) -> FieldInput:
    given: dict[str, object] = {
        "code": code,
        "label": label,
        "shape": "number",
        "unit": unit,
        "typed": "",
        "required": True,
        "says": Says(code),
        "last": f"{last}, 23:30",
        "last_value": last,
        "seen": last,
        "asked": True,
        "usual": True,
        "usual_low": "0",
        "usual_high": "90",
        "inputmode": "decimal",
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
        "says": Says(code),
        "reasons": REASONS,
        "asked": True,
        "usual": True,
        "usual_low": "0",
        "usual_high": "900",
        "inputmode": "decimal",
    }
    return FieldInput(**(given | more))  # type: ignore[arg-type]


def choice(code: str, label: str, words: tuple[str, ...]) -> FieldInput:
    options = tuple(Option(word, word, letter=word[:1]) for word in words)
    return FieldInput(
        code, label, "choice", "", "", required=False, says=Says(code), options=options
    )


def seldom_field(code: str, label: str, shape: str) -> FieldInput:
    return FieldInput(code, label, shape, "", "", required=False, says=Says(code))


def groups(half: bool) -> tuple[FieldGroup, ...]:
    typed = {"peep_set": "100", "vte": "40", "fio2_set": "0.4"} if half else {}
    refused = Says("peep_set", "PEEP 100 is refused: this field takes 0 to 50.", open=True)
    question = Ask("jump:vte:40", "40 mL? It was 365 at 23:30, 89 % lower.", "Yes, as typed")
    asked = Says("vte", asks=(question,), open=True)
    tagged = Says("pplat", note="Charted, and not used for mechanics in this mode.")
    nothing = Says("peep_set"), Says("vte"), Says("pplat")
    refused, asked, tagged = (refused, asked, tagged) if half else nothing
    machine = (
        setting(
            "fio2_set",
            "FiO2",
            "%",
            "45",
            typed=typed.get("fio2_set", ""),
            says=Says("fio2_set", echo="40 %" if half else ""),
        ),
        setting("peep_set", "PEEP", "cmH2O", "12", typed=typed.get("peep_set", ""), says=refused),
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
            says=asked,
            last="365, 23:30",
        ),
        reading("ppeak", "Peak pressure", "cmH2O"),
        reading("pplat", "Plateau", "cmH2O", says=tagged),
        reading("peep_total", "Total PEEP", "cmH2O"),
    )
    tube = (
        setting("depth", "Depth", "cm", "22"),
        choice("depth_at", "at", ("lip", "teeth", "naris")),
        reading(
            "cuff",
            "Cuff, by manometer",
            "cmH2O",
            required=False,
            asked=False,
            help="20 to 30 is typical.",
        ),
    )
    monitor = (
        reading("heart_rate", "Heart rate", "/min", "88" if half else ""),
        reading("spo2", "SpO2", "%", "94" if half else ""),
    )
    seldom = (
        seldom_field("remark", "Remark", "text"),
        seldom_field("filter_changed_on", "Filter changed on", "date"),
        seldom_field("pre_use_at", "Pre-use check at", "moment"),
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
        says=Says("mode_family"),
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
        "observed": ObservedInput("Observed at", "2026-11-26T02:03", "EST"),
        "family": family,
        "groups": groups(half=False),
        "complaints": (),
        "live": LiveIndices(()),
        "save_key": "k-1",
    }
    return AssessPage(**(given | changes))  # type: ignore[arg-type]


def half_typed() -> AssessPage:
    not_filled = Ask("not-filled", "Not filled: Ppeak. Save without it?", "Yes, save without them")
    complaints = (
        Complaint("peep_set", "PEEP", "100 is refused, this field takes 0 to 50"),
        Complaint("vte", "Tidal volume, expired", "40 mL? It was 365 at 23:30"),
        Complaint("", "This check", not_filled.sentence, not_filled),
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
        observed=ObservedInput(
            "Observed at", "2026-11-26T02:43", "EST", error="The time observed is still to come."
        ),
        focus="peep_set",
        identity=IdentityQuestion("Last two of the record number", "numeric", "86"),
    )


def gas() -> AssessPage:
    """A gas on the night of the clock change, bound to what was in force."""
    slip = (
        choice("gas_specimen", "Specimen", ("arterial", "venous", "capillary", "unknown")),
        reading("ph", "pH", "", asked=True),
        reading("paco2", "PaCO2", "kPa", "5.3", says=Says("paco2", echo="5.3 kPa is 40 mmHg")),
        reading("pao2", "PaO2", "kPa"),
    )
    return check(
        heading="Blood gas",
        kind="gas",
        family=FieldInput("mode_family", "On", "choice", "", "", required=True, says=Says("")),
        groups=(FieldGroup("Blood gas", "measured: typed from the slip", slip),),
        observed=ObservedInput(
            "Sample taken at",
            "2026-11-01T01:30",
            "EDT",
            late="late entry, 1 h 20 min after",
            choices=(Option("first", "01:30 EDT", chosen=True), Option("second", "01:30 EST")),
        ),
        bound=Bound(
            ("Volume control", "FiO2 45 %, charted 00:40", "FiO2 changed only 20 min before"),
            (Option("mmHg", "mmHg"), Option("kPa", "kPa", chosen=True)),
        ),
    )


def not_saved() -> AssessPage:
    return check(
        not_saved="The record cannot be written now. What you typed still stands below.",
        already_saved="This check was saved at 02:04 by you.",
        already_saved_href="/courses/5",
        groups=groups(half=True),
    )


def kept() -> AssessPage:
    """As somebody left it half an hour ago, on a page that locks in two hours; the bed is a
    colleague's."""
    locks = Locks("2026-11-26T09:05:00Z", 15)
    draft = KeptDraft(
        at("01:34"), look_again=True, discard_action="/courses/5/assess/draft/discard"
    )
    cover = identity_and_bed().cover
    return check(frame=frame("Check", locks=locks), draft=draft, cover=cover)
