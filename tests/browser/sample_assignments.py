"""The plan of a shift: for a lead with a refused save, for a reader, and of a unit without beds."""

from msgspec.structs import replace

from app.pages.assigned_words import MOVES_NOTHING, WEIGHTS
from app.pages.assignments_page import (
    AssignBed,
    AssignmentsPage,
    CoverForm,
    CoverLine,
    PersonLoad,
)
from app.pages.frame import NavLink
from app.pages.handoff_page import Choice
from tests.browser.sample_frame import frame

LONG = "Wilhelmina-Alexandra Featherstonehaugh-Montgomery"
PEOPLE = (Choice("1", "Ash"), Choice("2", "Birch", chosen=True), Choice("3", LONG))
WAITS = f"{LONG} has it; offered to whoever comes 18:40"
TRANSPORT = f"{LONG} covers for Ash until 14:30: transport to the scanner (said by Ash)"


def bed(code: str, **changes: object) -> AssignBed:
    given: dict[str, object] = {
        "bed": code,
        "href": f"/beds/{code}",
        "who": f"P-{code[1:]}",
        "hold": "Birch has it",
        "assigned": "assigned to Birch",
        "differs": False,
        "was": "",
        "choices": (Choice("", "nobody"), *PEOPLE),
    }
    return AssignBed(**(given | changes))  # type: ignore[arg-type]


def assignments() -> AssignmentsPage:
    return AssignmentsPage(
        frame=frame("Assignments"),
        shifts=(
            NavLink("This shift, 19:00 to 07:00", "/assignments?shift=this", current=True),
            NavLink("Next shift, 26 Nov 07:00 to 19:00", "/assignments?shift=next"),
        ),
        starts="2026-11-26T00:00:00Z",
        beds=(
            bed("L1"),
            bed("L2", hold=WAITS, differs=True),
            bed("L3", differs=True, error="Meanwhile Cedar chose Ash."),
            bed("L11", who="Closed for cleaning until the filters have come", hold=""),
        ),
        unassigned="Nobody is assigned to L4, L5.",
        loads=(
            PersonLoad("Ash", "1 bed, 2 due within 4 h, 0 with an open flag, 1 event in 12 h", "5"),
            PersonLoad(LONG, "7 beds, 11 due within 4 h, 3 with an open flag, 4 events", "sum 35"),
        ),
        hint="The beds of Birch weigh 35, those of Ash 5. A hint for whoever plans, no rule.",
        weights=WEIGHTS,
        moves_nothing=MOVES_NOTHING,
        covers=(CoverLine(TRANSPORT, "/assignments/covers/1/end"), CoverLine(TRANSPORT)),
        form=CoverForm(
            PEOPLE,
            (Choice("", "choose"), *PEOPLE),
            "2026-11-26T02:05",
            "",
            "",
            "America/New_York",
            twice=True,
            error="The end has to lie after the beginning.",
        ),
        edits=True,
        error="Somebody changed the plan while you had it open. Look at it and save again.",
    )


def read_only() -> AssignmentsPage:
    return replace(assignments(), edits=False, form=None, error="")


def nothing_planned() -> AssignmentsPage:
    return replace(read_only(), beds=(), unassigned="", loads=(), hint="", covers=())
