"""A row with corrections, a struck one, a row on its way to another chart, a height, a meeting."""

from app.pages.assess_page import Option
from app.pages.frame import NavLink
from app.pages.meeting_page import MeetingPage, SaidLine, Side, ToDecide
from app.pages.row_page import (
    AgainPage,
    AgainValue,
    AskedFirst,
    HeightPage,
    HeightVersion,
    OldValue,
    RowGroup,
    RowPage,
    RowValue,
    StrikeForm,
)
from tests.browser.sample_frame import at, banner, blank, confirmed, frame, measured

REASONS = (Option("effort", "effort"), Option("not_due", "not due this round"))
METHODS = (Option("supine_tape", "Lying, tape"), Option("estimated", "Estimated by eye"))
SEXES = (Option("M", "Male"), Option("F", "Female", chosen=True))
WHO = banner(height_href="/courses/5/height", course_id="5")


def value(code: str, label: str, shown, **more: object) -> RowValue:
    given: dict[str, object] = {
        "by": "",
        "why": "",
        "old": (),
        "version": f"0-{code}",
        "shape": "number",
        "reasons": REASONS,
    }
    return RowValue(code, label, shown, **(given | more))  # type: ignore[arg-type]


PLATEAU = value(
    "plateau_pressure_obs",
    "Plateau pressure",
    measured("Plateau", "28", "cmH2O"),
    by="Birch, 16:02",
    why="read the peak by mistake",
    old=(
        OldValue("34 cmH2O", "Ash", at("15:58", 25), "a finger slipped"),
        OldValue("32 cmH2O", "Ash", at("15:31", 25), ""),
    ),
)
ASKED = value(
    "tidal_volume_obs",
    "Tidal volume, expired",
    measured("VT expired", "420", "mL"),
    typed="45",
    why_typed="typed a nought too many",
    asks=(AskedFirst("jump:vte:45", "VT expired 45 mL: was 420, −89 %?", "Yes, as typed"),),
    open=True,
)
REFUSED = value(
    "peep_set",
    "PEEP",
    confirmed("PEEP", "12", "cmH2O"),
    typed="100",
    why_typed="no",
    reasons=(),
    error="PEEP 100 is refused. This field takes 0 to 50 cmH2O.",
    open=True,
)
MODE = value(
    "flow_pattern",
    "Flow pattern",
    measured("Flow", "Constant"),
    shape="choice",
    options=(Option("constant", "Constant"), Option("falling", "Falling")),
    reasons=(),
)
MISSED = value("peep_total", "Total PEEP", blank("PEEP total", "PEEP total not done: effort"))


def row(**changes: object) -> RowPage:
    given: dict[str, object] = {
        "frame": frame("Row", told=TOLD),
        "banner": WHO,
        "heading": "Full check of 15:30",
        "written": "Written 15:31 by Ash, volume control, assist/control",
        "notes": ("corrected",),
        "struck": "",
        "trouble": "",
        "groups": (
            RowGroup("Told to the machine", (REFUSED, MODE)),
            RowGroup("Read at the machine", (ASKED,)),
            RowGroup("Holds", (PLATEAU, MISSED)),
        ),
        "correct_action": "/courses/5/rows/7/values",
        "strike": StrikeForm(
            "/courses/5/rows/7/strike",
            "no",
            "Say why, in at least 4 characters.",
            True,
            "/courses/5/rows/7/elsewhere",
            (Option("L3", "L3"), Option("L6", "L6")),
        ),
        "back_href": "/courses/5",
    }
    return RowPage(**(given | changes))  # type: ignore[arg-type]


TOLD = (
    NavLink(
        "Your row of 14:10 in L10 was struck by Cedar, 16:00: belongs to another patient",
        "/courses/10/rows/3",
    ),
)


def struck_row() -> RowPage:
    return row(
        notes=("late, written 16:20", "charted first on another chart"),
        struck="Struck 16:40 by Birch: belongs to another patient",
        trouble="Somebody else corrected or struck this meanwhile. Nothing of yours was saved.",
        groups=(RowGroup("Holds", (PLATEAU,)),),
        strike=None,
    )


def again() -> AgainPage:
    return AgainPage(
        frame=frame("Chart again"),
        banner=WHO,
        heading="Full check charted elsewhere by mistake",
        observed=at("14:10", 25),
        values=(
            AgainValue("PEEP", "12 cmH2O"),
            AgainValue("Tidal volume, expired", "420 mL"),
            AgainValue("Plateau pressure", "Pplat not done: effort"),
        ),
        asks=(AskedFirst("jump:peep_set:12", "PEEP 12 cmH2O: was 5, +7?", "Yes, as typed"),),
        accepted=(),
        refused=("This time lies before support began.",),
        action="/courses/5/again/7",
        back_href="/courses/5",
    )


def height(**changes: object) -> HeightPage:
    given: dict[str, object] = {
        "frame": frame("Height"),
        "banner": WHO,
        "heading": "Height",
        "versions": (
            HeightVersion(
                "158 cm, lying, tape, female", "Birch", at("19:40", 25), "measured", True
            ),
            HeightVersion("170 cm, estimated by eye, female", "Ash", at("07:00", 25), "", False),
        ),
        "moved": (
            "07:30: 8.3 mL/kg, over 8.0, was 6.8 with 170 cm",
            "11:30: 8.3 mL/kg, over 8.0, was 6.8 with 170 cm",
        ),
        "moved_words": "Rows written before the correction, as they read now",
        "action": "/courses/5/height",
        "seen": "9",
        "typed": "120",
        "methods": METHODS,
        "sexes": SEXES,
        "why_typed": "measured with a tape",
        "errors": ("Say how the height was found.",),
        "asks": (
            AskedFirst("soft:height:120", "Height 120 cm: unusual, is it right?", "Yes, as typed"),
        ),
        "accepted": (),
        "trouble": "",
        "first": False,
        "may_correct": True,
        "back_href": "/courses/5",
    }
    return HeightPage(**(given | changes))  # type: ignore[arg-type]


def first_height() -> HeightPage:
    return height(versions=(), moved=(), moved_words="", typed="", errors=(), asks=(), first=True)


HOLD_OF_ASH = (
    SaidLine("Tidal volume, expired", "420 mL", "Ash", at("01:55")),
    SaidLine("Plateau pressure", "26 cmH2O", "Ash", at("01:55")),
    SaidLine("Patient passive during the hold", "Yes", "Ash", at("01:55")),
    SaidLine("PEEP", "12 cmH2O", "Ash", at("01:55")),
)
HOLD_OF_MINE = (
    SaidLine("Plateau pressure", "24 cmH2O"),
    SaidLine("PEEP", "10 cmH2O"),
)


def meeting() -> MeetingPage:
    theirs, mine = "Theirs: leave mine out", "Mine: a new observation"
    return MeetingPage(
        frame=frame("The chart moved on"),
        banner=WHO,
        heading="The chart moved on",
        words="Ash and Cedar charted this bed since you opened the form. Nothing of yours is "
        "saved yet, and nothing is lost: say what holds.",
        decisions=(
            ToDecide(
                "meet.1",
                "Changed since you opened the form",
                "Your form says nothing of it, and it changes what every number means.",
                Side((SaidLine("Position", "Prone", "Cedar", at("02:00")),), "", ""),
                Side((), "mine", "My numbers hold all the same"),
            ),
            ToDecide(
                "meet.2",
                "The hold",
                "Volume, plateau, PEEP and passive stay together: no number is of two holds.",
                Side(HOLD_OF_ASH, "theirs", theirs),
                Side(HOLD_OF_MINE, "mine", mine, chosen=True),
            ),
        ),
        rest="Rate, total 24, SpO2 92",
        carried=(("course", "5"), ("resp_rate_obs", "24"), ("spo2", "92")),
        action="/courses/5/assess",
        back_href="/courses/5",
    )
