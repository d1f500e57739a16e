"""L5 in the sample night: one flag, one value that cannot be judged, eight checks."""

from msgspec.structs import replace

from app.pages.bed_acts import Acts
from app.pages.bed_page import (
    BedPage,
    EventLine,
    GridColumn,
    GridGroup,
    GridRow,
    NowGroup,
    TreatmentLine,
)
from app.pages.frame import NavLink
from app.pages.shown import Beyond, Drawn, Due, Shown, Tone, Worry
from app.pages.trends_page import Trend
from tests.browser.sample_frame import (
    at,
    banner,
    blank,
    changed,
    confirmed,
    frame,
    measured,
    nothing,
    over,
    shut,
    worked,
)
from tests.browser.sample_trends import trends

TIMES = (
    ("03:30", 25, "Birch", "full", ()),
    ("07:30", 25, "Ash", "full", ()),
    ("11:30", 25, "Ash", "full", ("corrected",)),
    ("15:30", 25, "Ash", "full", ("written 16:20",)),
    ("19:30", 25, "Birch", "full", ()),
    ("22:10", 25, "Birch", "brief", ()),
    ("01:40", 26, "Birch", "full", ()),
)


def columns() -> tuple[GridColumn, ...]:
    return tuple(
        GridColumn(
            at(clock, day),
            author,
            kind,
            notes,
            newest=clock == "01:40",
            href=f"/courses/5/rows/{day}{clock[:2]}",
        )
        for clock, day, author, kind, notes in TIMES
    )


def cells(label: str, text: str, drawn: Drawn) -> tuple[Shown, ...]:
    """One row of the grid from its words: "_" is not measured, "x" not valid, "." nothing,
    "!" before a number is changed, "a>b" outside with the word b."""
    return tuple(cell(label, word, drawn) for word in text.split())


def cell(label: str, text: str, drawn: Drawn) -> Shown:
    if text == ".":
        return nothing(label)
    if text in ("_", "x"):
        return blank(label, "not done: turn") if text == "_" else shut(label, "no plateau")
    if text.startswith("!"):
        number, _, was = text[1:].partition("<")
        return changed(label, number, word=f"was {was}" if was else "")
    number, found, limit = text.partition(">")
    if found:
        return over(label, number, f"over {limit.strip('?')}", once=limit.endswith("?"))
    return Shown(label, number, drawn)


def line(label: str, unit: str, key: str, text: str, drawn: Drawn = Drawn.MEASURED) -> GridRow:
    opening = tuple(
        each if each.drawn is Drawn.NOTHING else replace(each, href=f"/courses/5/numbers/{key}")
        for each in cells(label, text, drawn)
    )
    return GridRow(label, unit, key, opening)


def groups() -> tuple[GridGroup, ...]:
    kept, out = Drawn.CONFIRMED, Drawn.WORKED_OUT
    return (
        GridGroup(
            "Told to the machine",
            (
                line("FiO2", "%", "fio2_set", "50 50 50 !45<50 45 !50<45 !60<50", kept),
                line("PEEP", "cmH2O", "peep_set", "10 10 10 10 10 !8<10 8", kept),
                line("Tidal volume", "mL", "vt_set", "400 400 400 400 400 400 400", kept),
                line("Rate", "/min", "rate_set", "20 20 !22<20 22 22 22 22", kept),
            ),
        ),
        GridGroup(
            "Read at the bed",
            (
                line("Rate, total", "/min", "rate_total", "20 21 23 22 24 24 26"),
                line("Peak pressure", "cmH2O", "ppeak", "30 30 31 31 33 34 36"),
                line("Plateau", "cmH2O", "pplat", "24 24 25 _ 26 27 28"),
                line("Total PEEP", "cmH2O", "peep_total", "11 11 11 _ 11 11 12"),
                line("SpO2", "%", "spo2", "94 95 94 93 92 90 92"),
            ),
        ),
        GridGroup(
            "Worked out",
            (
                line("Volume", "mL/kg predicted", "vt_per_pbw", "6.7 6.7 6.8 6.7 6.6 6.7 6.7", out),
                line("Driving pressure", "cmH2O", "driving", "13 13 14 x 15 16>15? 16>15", out),
                line("Compliance", "mL/cmH2O", "compliance_static", "31 31 29 x 26 25 25", out),
            ),
        ),
        GridGroup(
            "Airway",
            (
                line("Depth at lip", "cm", "depth", "22 22 22 22 22 . 22", kept),
                line("Cuff", "cmH2O", "cuff", "_ 26 _ 28 28 . 26"),
            ),
        ),
    )


NOW = (
    NowGroup(
        "Volume control",
        "= confirmed 01:40",
        (
            changed("FiO2", "60", "%", "was 50", href="/fields/fio2_set"),
            confirmed("PEEP", "8", "cmH2O"),
            confirmed("Volume", "400", "mL"),
            confirmed("Rate", "22", "/min"),
        ),
    ),
    NowGroup(
        "Lungs",
        "measured 01:40, passive",
        (
            worked("Volume/kg", "6.7", "mL/kg", "limit 8.0", href="/indices/vt_per_pbw"),
            measured("Plateau", "28", "cmH2O", "limit 30"),
            over("Driving", "16", "over 15, from total PEEP", href="/indices/driving_pressure"),
            worked("Compliance", "25", "", "from total PEEP"),
            blank("Resistance", "no flow charted"),
            shut("RSBI", "not in this mode"),
        ),
    ),
    NowGroup(
        "Gas",
        "arterial 01:50, on 60 %",
        (
            measured("SpO2", "86", "%", "under 88", beyond=Beyond.UNDER, once=True),
            worked("P/F", "113", "mmHg"),
            measured("PaCO2", "52", "mmHg", "pH 7.31"),
        ),
    ),
)
WORRIES = (
    Worry(
        Tone.FLAG,
        "Driving pressure 16, over 15",
        "28 plateau − 12 total PEEP = 16. Passive hold at 22:10 and 01:40. The limit of 15 is "
        "this unit’s, policy 7",
        at("22:10", 25),
    ),
    Worry(Tone.ONCE, "SpO2 86 once, under 88", "read again by 02:20", at("01:50")),
    Worry(Tone.NOT_EVALUABLE, "Cannot be judged: resistance", "flow not charted since 19:30"),
    Worry(Tone.NOTE, "FiO2 50 to 60", "after suction", at("01:40")),
)
EVENTS = (
    EventLine(at("01:50"), "Arterial gas: pH 7.31, PaCO2 52, PaO2 68 on 60 %", "Birch"),
    EventLine(at("22:10", 25), "PEEP 10 to 8, ordered by Dr Oak", "Birch"),
    EventLine(at("16:20", 25), "Check of 15:30 written late", "Ash"),
)


def opening_groups() -> tuple[NowGroup, ...]:
    """What stands now, each number leading to its explanation."""
    return tuple(
        replace(
            group,
            numbers=tuple(
                replace(shown, href=shown.href or "/courses/5/numbers/spo2")
                for shown in group.numbers
            ),
        )
        for group in NOW
    )


def bed(**changes: object) -> BedPage:
    given: dict[str, object] = {
        "frame": frame("Bed L5"),
        "banner": banner(),
        "now": opening_groups(),
        "worries": WORRIES,
        "quiet_words": "No flag raised",
        "quiet_due": "Nothing is due.",
        "due": (
            Due("read SpO2 again", "late", at("02:00")),
            Due("full check with both holds", "due", at("05:40")),
            Due("cuff pressure", "overdue", at("00:00"), "not measured since 15:30"),
        ),
        "columns": columns(),
        "row_trends": row_trends(),
        "groups": groups(),
        "more": (),
        "earlier_words": "12 earlier checks",
        "earlier_href": "/courses/5/checks",
        "events": EVENTS,
        "assess_href": "/courses/5/assess",
        "gas_href": "/courses/5/gas",
        "brief_href": "/courses/5/brief",
        "event_href": "/courses/5/events",
        "handoff_href": "/courses/5/handoff",
        "may_chart": True,
        "row_words": "correct or strike",
        "policy_words": "Judged by policy 7 of 12 Nov, Cedar",
        "acts": (
            Acts(
                "Chart",
                (NavLink("Event", "/courses/5/events"), NavLink("Airway", "/courses/5/airway")),
            ),
            Acts("Look back", (NavLink("Trends", "/courses/5/trends"),)),
        ),
        "going": (
            "Prone since 21:10, 5 h of 16 h; turn due 13:10",
            "Inhaled nitric oxide since 25 Nov 18:00, 8 h 5 min: 20 ppm",
        ),
        "not_yet": (NavLink("height", "/courses/5/height"), NavLink("airway", "/courses/5/airway")),
        "tube_out_href": "/courses/5/tube-out",
        "liberation": (
            "Re-intubated 25 Nov 11:20, 14 h after extubation",
            "Off the ventilator through the tracheostomy: today 2 h 05, 25 Nov 6 h 30",
        ),
        "treatments": TREATMENTS,
    }
    return BedPage(**(given | changes))  # type: ignore[arg-type]


TREATMENTS = (
    TreatmentLine(
        "salbutamol 2.5 mg, nebuliser, every 4 h",
        "ordered by Dr Oak, 25 Nov 18:00; 23:40 Ash: given: before: wheeze; after: clear; "
        "next due 03:40",
        "/courses/5/treatments?give=1",
    ),
    TreatmentLine(
        "ipratropium 2 puffs, metered dose with spacer, as needed",
        "ordered by Dr Oak, 25 Nov 18:00; not given yet",
        "/courses/5/treatments?give=2",
    ),
)


def new_bed() -> BedPage:
    """A patient of whom nothing is known yet, read by somebody who may not chart."""
    who = banner(
        bed="",
        name="P-22",
        record_number="··0007",
        height="no height",
        predicted_weight=blank("Predicted weight", "no height", href="/courses/5/numbers/pbw"),
        day="Day 1",
        limits_of_care="",
        isolation="",
        allergies="",
        origin="imported",
        adult_off="Child, 9 y: adult formulae, limits and rules are off. None was replaced.",
        moved="Moved: in no bed of this unit since 01:50, was L9",
    )
    now = (NowGroup("Support", "", (), "Nothing charted yet."),)
    return bed(
        banner=who,
        now=now,
        worries=(),
        due=(),
        columns=(),
        groups=(),
        events=(),
        more=(),
        earlier_words="",
        earlier_href="",
        may_chart=False,
        row_words="look closer",
    )


def row_trends() -> dict[str, Trend]:
    """The lines of three rows of the grid, under the keys that these rows have here."""
    found = {trend.key: trend for trend in trends().trends}
    return {
        "driving": found["driving_pressure"],
        "spo2": found["spo2"],
        "peep_set": found["peep_set"],
        "compliance_static": found["compliance_static"],
    }
