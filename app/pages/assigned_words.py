"""The plan of a shift in words, beside who has a bed; the same words on every page."""

from datetime import datetime

from app.charting.assigning import Cover
from app.pages.times import clock_time
from app.rules.handoff_state import HandoffNow
from app.rules.load import (
    FOR_A_BED,
    FOR_A_DUE_ITEM,
    FOR_A_FLAGGED_BED,
    FOR_AN_EVENT,
    WORTH_A_WORD,
    Load,
)
from app.rules.shift_plan import Plan
from app.rules.unit_clock import UnitClock

MOVES_NOTHING = (
    "A plan moves nothing: whoever accepted a bed has it until somebody else accepts it. "
    "Nor does covering: it says who looks after the beds meanwhile."
)

WEIGHTS = (
    f"Weighed: {FOR_A_BED} for a bed, {FOR_A_DUE_ITEM} for each thing due within 4 h, "
    f"{FOR_A_FLAGGED_BED} more for a bed with an open flag, {FOR_AN_EVENT} for each event of the "
    f"last 12 h; a difference of {WORTH_A_WORD} is remarked on. Engineering judgement: nobody "
    "measured these figures, and they are no measure of work."
)


def assigned_words(plan: Plan | None, bed: str, told: HandoffNow) -> str:
    """Who is to have the bed, where that is somebody else than who has it; else nothing."""
    if plan is None or not plan.differs(bed, told):
        return ""
    name = plan.assigned_name(bed)
    return f"assigned to {name}" if name else "assigned to nobody"


def cover_words(cover: Cover, now: datetime, clock: UnitClock) -> str:
    """ "Birch covers for Ash until 14:30: transport"; with its beginning where that is to come, and
    with the bed where it is about one."""
    start = f" from {clock_time(cover.from_at, now, clock)}" if cover.from_at > now else ""
    until = clock_time(cover.to_at, now, clock)
    bed = f" {cover.bed}" if cover.bed else ""
    return f"{cover.name} covers{bed} for {cover.for_name}{start} until {until}: {cover.words}"


def load_words(load: Load) -> str:
    """The counts behind the hint, and their sum: "5 beds, 7 due within 4 h, 2 flagged ..."."""
    return ", ".join(
        (
            "1 bed" if load.beds == 1 else f"{load.beds} beds",
            f"{load.due} due within 4 h",
            f"{load.flagged} with an open flag",
            "1 event in 12 h" if load.events == 1 else f"{load.events} events in 12 h",
        )
    )
