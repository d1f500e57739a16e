"""Unit Larch at 02:05: twelve beds, each with its reason to be there."""

from msgspec.structs import replace

from app.pages.board_page import BoardPage, BoardRow
from app.pages.shown import Beyond, Count, Due, Shown, Tone, Worry
from tests.browser.sample_frame import (
    at,
    blank,
    changed,
    confirmed,
    frame,
    measured,
    over,
    shut,
    worked,
)

LUNG_LABELS = ("VT/kg", "Driving", "Compl.")


def lungs(*texts: str) -> tuple[Shown, ...]:
    return tuple(worked(label, text) for label, text in zip(LUNG_LABELS, texts, strict=True))


def gas(spo2: str, pf: str) -> tuple[Shown, ...]:
    last = worked("P/F", pf) if pf else blank("P/F", "no gas")
    return (measured("SpO2", spo2), last)


def row(bed: str, who: str, line: str, oxygen: str, pressure: str, **more: object) -> BoardRow:
    given: dict[str, object] = {
        "bed": bed,
        "href": f"/courses/{bed}",
        "occupied": True,
        "who": who,
        "who_line": line,
        "airway": "7.5 at 22 lip",
        "airway_line": "cuff 26",
        "support": "Volume control",
        "support_line": "400 × 20",
        "fio2": confirmed("FiO2", oxygen) if oxygen else None,
        "peep": confirmed("PEEP", pressure) if pressure else None,
        "lungs": lungs("6.4", "12", "38"),
        "gas": gas("95", "240"),
        "due": Due("check", "due", at("03:30")),
        "last_check": measured("last", "23:30", author="Birch", when=at("23:30", 25)),
    }
    if "worries" not in more:
        given["quiet_words"] = "No flag raised"
    return opening(BoardRow(**(given | more)))  # type: ignore[arg-type]


def opening(row: BoardRow) -> BoardRow:
    """The same row, each number leading to its explanation."""

    def led(shown: Shown | None) -> Shown | None:
        return shown and replace(shown, href="/courses/5/numbers/spo2")

    def all_led(numbers: tuple[Shown, ...]) -> tuple[Shown, ...]:
        return tuple(replace(shown, href="/courses/5/numbers/spo2") for shown in numbers)

    return replace(
        row,
        fio2=led(row.fio2),
        peep=led(row.peep),
        lungs=all_led(row.lungs),
        gas=all_led(row.gas),
    )


def flagged() -> BoardRow:
    return row(
        "L5",
        "P-05",
        "58 F, day 6",
        "60",
        "8",
        fio2=changed("FiO2", "60", word="was 50"),
        peep=confirmed("PEEP", "8", word="total 12"),
        lungs=(
            worked("VT/kg", "6.7"),
            over("Driving", "16", "over 15", key="driving_pressure"),
            worked("Compl.", "25"),
        ),
        gas=gas("92", "113"),
        worries=(
            Worry(Tone.FLAG, "Driving pressure 16, over 15", "22:10 and 01:40", None),
            Worry(Tone.FLAG, "Compliance 25, was 31 at 03:30"),
            Worry(Tone.NOTE, "FiO2 50 to 60 at 01:40"),
        ),
        due=Due("check", "due", at("05:40")),
    )


def outside_once() -> BoardRow:
    low = measured("SpO2", "86", word="under 88", beyond=Beyond.UNDER, once=True)
    return row(
        "L7",
        "P-07",
        "50 F, day 3",
        "70",
        "14",
        support_line="340 × 24, prone",
        lungs=lungs("7.1", "14", "24"),
        gas=(low, worked("P/F", "96")),
        worries=(Worry(Tone.ONCE, "SpO2 86 once, under 88", "read again by 02:20"),),
    )


def overdue() -> BoardRow:
    old = [
        measured(label, text, stale=True)
        for label, text in zip(LUNG_LABELS, ("6.1", "14", "32"), strict=True)
    ]
    return row(
        "L8",
        "P-16",
        "66 M, day 11",
        "55",
        "12",
        fio2=confirmed("FiO2", "55", word="4 h 55 old", stale=True),
        peep=confirmed("PEEP", "12", stale=True),
        lungs=tuple(old),
        gas=(measured("SpO2", "93", stale=True), worked("P/F", "142", stale=True)),
        worries=(Worry(Tone.OVERDUE, "Check overdue 55 min", "last full check 21:10, Birch"),),
        due=Due("check", "overdue", at("01:10")),
    )


def child() -> BoardRow:
    return row(
        "L10",
        "P-19",
        "9 y, day 1",
        "35",
        "6",
        airway="5.5 at 17 lip",
        support="Pressure control",
        support_line="14 above PEEP × 20",
        lungs=(
            shut("VT/kg", "child"),
            worked("Driving", "12", word="no limit"),
            worked("Compl.", "16"),
        ),
        gas=gas("97", ""),
        worries=(Worry(Tone.NOT_EVALUABLE, "Cannot be judged: no limits set"),),
        due=Due("check", "late", at("01:45")),
    )


def rows() -> tuple[BoardRow, ...]:
    support = {"support": "Pressure support", "support_line": "8 above PEEP"}
    shut_lungs = (
        worked("VT/kg", "7.3"),
        shut("Driving", "assisted"),
        shut("Compl.", "assisted"),
    )
    open_lungs = (
        worked("VT/kg", "6.8"),
        blank("Driving", "no plateau"),
        blank("Compl.", "no plateau"),
    )
    no_height = (blank("VT/kg", "no height"), worked("Driving", "14"), worked("Compl.", "30"))
    judged = Tone.NOT_EVALUABLE
    trial = Due("breathing trial", "due", at("04:30"))
    return (
        row("L1", "P-12", "61 M, day 3", "35", "8", airway="8.0 at 23 lip"),
        row("L2", "P-08", "47 M, day 9", "30", "5", lungs=shut_lungs, due=trial, **support),
        row("L3", "P-01", "54 F, day 4", "45", "12", lungs=lungs("7.0", "14", "26")),
        row(
            "L4",
            "P-04",
            "39 M, day 2",
            "50",
            "10",
            lungs=open_lungs,
            worries=(Worry(judged, "Cannot be judged: no plateau", "effort at 23:30"),),
        ),
        flagged(),
        row(
            "L6",
            "P-13",
            "72 F, day 1",
            "40",
            "8",
            airway="7.0 at 21 teeth",
            lungs=no_height,
            worries=(Worry(judged, "Cannot be judged: no height", "volume needs it"),),
        ),
        outside_once(),
        overdue(),
        row(
            "L9",
            "P-17",
            "69 F",
            "50",
            "",
            airway="Cannula",
            airway_line="34 °C",
            support="High flow",
            support_line="45 L/min",
            lungs=(),
            lungs_words="No mechanics on high flow",
            gas=gas("93", ""),
        ),
        child(),
        BoardRow("L11", "/courses/L11", False, empty_words="Empty since 16:20"),
        row(
            "L12",
            "P-21",
            "60 M, day 5",
            "",
            "",
            lungs=(),
            lungs_words="Last numbers not shown while away",
            gas=(),
            worries=(Worry(Tone.AWAY, "Away: scan, since 01:35", "due clock paused"),),
            due=Due("full check on return", "paused"),
            last_check=None,
        ),
    )


COUNTS = (
    Count(1, "flagged", Tone.FLAG),
    Count(1, "outside once", Tone.ONCE),
    Count(1, "with a check overdue", Tone.OVERDUE),
    Count(3, "cannot be judged", Tone.NOT_EVALUABLE),
    Count(4, "no flag raised"),
    Count(1, "away", Tone.AWAY),
    Count(1, "empty"),
)
POLICY = "Limits: policy 7 of 12 Nov, Cedar"


def board() -> BoardPage:
    return BoardPage(frame("Board, Unit Larch", "Board"), COUNTS, rows(), "41-7", POLICY)


def empty_board() -> BoardPage:
    beds = tuple(
        BoardRow(f"L{number}", "/admit", False, empty_words="Empty") for number in (1, 2, 3)
    )
    counts = (Count(0, "flagged", Tone.FLAG), Count(0, "overdue", Tone.OVERDUE), Count(3, "empty"))
    return BoardPage(frame("Board, Unit Larch", "Board"), counts, beds, "0-1", POLICY)


def worst_board() -> BoardPage:
    """Every text as long as a unit could make it."""
    long = row(
        "Larch-12B",
        "P-10 of the overflow area",
        "104 y, F, ventilator day 118",
        "100",
        "24.5",
        fio2=changed("FiO2", "100", word="was 60"),
        peep=changed("PEEP", "24.5", word="was 10, total 27.5"),
        airway="Tracheostomy, adjustable flange, 8.5",
        airway_line="cuff 32, over 30",
        support="Volume-targeted pressure control with spontaneous breaths between",
        support_line="target 1250 × 35, limit 45",
        lungs=(
            over("VT/kg", "12.4", "over 8.0"),
            over("Driving", "28.5", "over 15"),
            worked("Compl.", "118.5", word="from set PEEP"),
        ),
        gas=(
            measured("SpO2", "71", word="under 88", beyond=Beyond.UNDER),
            worked("P/F", "48", word="arterial, 14 h old", stale=True),
        ),
        worries=(
            Worry(
                Tone.FLAG,
                "Volume per predicted weight 12.4 mL/kg, over the 8.0 that this unit set",
                "three times since 18:50; volume ordered by Dr Oak with a reason on the page",
                at("01:40"),
            ),
            Worry(Tone.FLAG, "Driving pressure 28.5, over 15", "at 22:10, 23:30 and 01:40"),
            Worry(Tone.NOTE, "Treatment limits changed"),
        ),
        due=Due("full check with both holds", "overdue", at("19:30", 25), "6 h 35 min ago"),
        last_check=measured("last", "25 Nov 15:30", author="Featherstonehaugh"),
    )
    counts = (Count(188, "flagged", Tone.FLAG), *COUNTS[1:])
    trouble = "The audit record cannot be written: reading goes on, charting is stopped."
    page = frame("Board", "Board", notice=trouble, said="Checked in: L5, 01:40.")
    return BoardPage(page, counts, (*rows()[:3], long), "9", POLICY)
