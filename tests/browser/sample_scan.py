"""The scan of the sample night for a lead and for a passer-by, and of a unit without beds."""

from msgspec.structs import replace

from app.pages.frame import NavLink
from app.pages.scan_page import CalmBed, CalmBeds, ScanBed, ScanLine, ScanList, ScanPage
from app.pages.shown import Count, Due, Tone, Worry
from tests.browser.sample_frame import at, frame

LINES = (
    Worry(Tone.FLAG, "Driving pressure 18, over 15", "18 at 01:40, 17 at 22:10", at("01:40")),
    Worry(Tone.OVERDUE, "Check overdue: was due 23:30", "Last full check 21:10, Birch"),
    Worry(Tone.ONCE, "SpO2 86 once, under 88", "read again by 02:20", at("01:50")),
    Worry(
        Tone.NOT_EVALUABLE,
        "Cannot be judged: plateau pressure not measured, patient effort during the hold",
        "Last valid driving pressure 14, 24 Nov 19:30",
    ),
    Worry(Tone.QUIET, "No flag raised"),
    Worry(Tone.QUIET, "Closed for cleaning until the filters have come"),
)
CODES = ("L5", "L8", "L1", "L10", "L3", "L12")


def beds() -> tuple[ScanBed, ...]:
    return tuple(
        ScanBed(
            code,
            f"/beds/{code}",
            f"P-{code[1:]}",
            line,
            "and 2 more",
            "Birch has it; assigned to Ash",
            "",
        )
        for code, line in zip(CODES, LINES, strict=True)
    )


def scan() -> ScanPage:
    due = Due("plateau", "overdue", at("01:40"), "overdue")
    return ScanPage(
        frame=frame("Scan"),
        read_at="02:05",
        counts=(
            Count(1, "flagged", Tone.FLAG),
            Count(1, "with a check overdue", Tone.OVERDUE),
            Count(2, "cannot be judged", Tone.NOT_EVALUABLE),
            Count(1, "with no flag raised"),
        ),
        supports="6 invasive, 1 by mask, 2 high-flow, 1 of them with a tracheostomy",
        filters=(NavLink("All beds", "/scan?show=all", current=True), NavLink("Worry", "/scan")),
        orders=(NavLink("By worry", "/scan?order=worry", current=True), NavLink("Bed", "/scan")),
        beds=beds(),
        calm=(CalmBeds("No flag raised", (CalmBed("L2", "/beds/L2", "Birch, assigned to Ash"),)),),
        left_out="Not shown: 6 of 12 beds",
        loads=("Birch: 6 beds, 4 to look at, 7 due within 4 h", "Nobody: 1 bed, 0 to look at"),
        covers=("Birch covers for Ash until 04:30: transport to the scanner",),
        lists=(
            ScanList("Overdue", (ScanLine("L5", "/beds/L5", "", due),), ""),
            ScanList("Unsigned drafts", (), "No draft waits for a signature"),
        ),
        news_href="/scan/news?version=1",
        here="/scan",
        other_href="/scan?view=corridor",
    )


def corridor() -> ScanPage:
    states = tuple(
        ScanBed(bed.bed, bed.href, "", Worry(bed.line.tone, "Flag raised"), "", "", "")
        for bed in beds()
    )
    bare = replace(scan(), calm=(), lists=(), loads=(), covers=(), left_out="")
    return replace(bare, beds=states, corridor=True)


OFTEN = (
    Worry(Tone.FLAG, "Driving pressure 18, over 15"),
    Worry(Tone.FLAG, "No spare airway at the bed of a fresh tracheostomy"),
    Worry(Tone.OVERDUE, "Check overdue: was due 23:30", "Last full check 21:10, Birch"),
    Worry(Tone.FLAG, "Static compliance fell to 31, from 44"),
    Worry(Tone.ONCE, "SpO2 86 once, under 88", "read again by 02:20"),
    Worry(Tone.NOT_EVALUABLE, "Cannot be judged: plateau not done: effort"),
    Worry(Tone.FLAG, "FiO2 85, over 60"),
    Worry(Tone.SEEN, "Auto-PEEP 6.0, at or over 3.0", "seen by Birch 23:10: shorter inspiration"),
)


def full_unit() -> ScanPage:
    """Twenty-four beds, a third of which are to be looked at."""
    noisy = tuple(
        ScanBed(
            f"L{number}",
            f"/beds/L{number}",
            f"P-{number:02}",
            line,
            "and 1 more",
            "Birch has it",
            "since 22:10",
            at("01:40"),
        )
        for number, line in enumerate(OFTEN, start=1)
    )
    quiet = tuple(CalmBed(f"L{n}", f"/beds/L{n}", ("Ash", "Birch")[n % 2]) for n in range(9, 24))
    calm = (
        CalmBeds("No flag raised", quiet),
        CalmBeds("Empty", (CalmBed("L24", "/beds/L24", ""),)),
    )
    return replace(scan(), beds=noisy, calm=calm, left_out="", covers=())


def no_beds() -> ScanPage:
    return replace(scan(), beds=(), calm=(), counts=(), supports="", loads=(), left_out="")
