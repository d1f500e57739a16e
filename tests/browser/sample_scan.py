"""The scan of the sample night for a lead and for a passer-by, and of a unit without beds."""

from dataclasses import replace

from app.pages.frame import NavLink
from app.pages.scan_page import ScanBed, ScanLine, ScanList, ScanPage
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
            Count(1, "overdue", Tone.OVERDUE),
            Count(2, "cannot be judged", Tone.NOT_EVALUABLE),
            Count(1, "with no flag raised"),
        ),
        supports="6 invasive, 1 by mask, 2 high-flow, 1 of them with a tracheostomy",
        filters=(NavLink("All beds", "/scan?show=all", current=True), NavLink("Worry", "/scan")),
        orders=(NavLink("By worry", "/scan?order=worry", current=True), NavLink("Bed", "/scan")),
        beds=beds(),
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
    return replace(scan(), beds=states, lists=(), loads=(), covers=(), corridor=True, left_out="")


def no_beds() -> ScanPage:
    return replace(scan(), beds=(), counts=(), supports="", loads=(), left_out="")
