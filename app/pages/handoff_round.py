"""Build the round of handoffs: what is offered to this reader, what is theirs to hand over, the
rest. Worst first: concern, then the soonest task. A reader may ask for the order of the beds.
"""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime

from msgspec.structs import replace

from app.charting.handing_over import Level
from app.pages.assigned_words import assigned_words
from app.pages.board import BoardBed
from app.pages.due_words import check_due
from app.pages.frame import Frame, NavLink
from app.pages.handing_over import LEVEL_WORDS, hold_words
from app.pages.handoff_round_page import RoundGroup, RoundPage, RoundRow
from app.pages.shown import Tone
from app.pages.times import clock_time, when_in
from app.pages.worries import worries_of
from app.rules.bed_summary import BedSummary
from app.rules.handoff_state import HandoffNow, Standing
from app.rules.shift_plan import Plan
from app.rules.unit_clock import UnitClock

WORST_FIRST = (Level.HIGH.value, Level.RAISED.value, "", Level.LOW.value)
"""A bed for which nobody chose a level stands before the low ones: missing is not low."""

TO_YOU, YOURS, OTHERS = "to-you", "yours", "others"
HEADINGS = {
    TO_YOU: "Offered to you",
    YOURS: "Yours to hand over",
    OTHERS: "Other beds",
}


def round_page(
    frame: Frame,
    beds: Sequence[BoardBed],
    late: Mapping[str, int],
    *,
    reader_id: str,
    clock: UnitClock,
    now: datetime,
    version: str,
    in_bed_order: bool = False,
    plan: Plan | None = None,
) -> RoundPage:
    """The round at `now`. `late` counts the items that this reader has not seen, by bed code.

    `plan` is that of the shift that comes, or of the one that runs.
    """
    taken = [bed for bed in beds if bed.summary is not None]
    ordered = taken if in_bed_order else sorted(taken, key=_worst_first)
    grouped: dict[str, list[RoundRow]] = {TO_YOU: [], YOURS: [], OTHERS: []}
    for bed in ordered:
        assert bed.summary is not None  # noqa: S101 - filtered above
        group = _group(bed.summary.handoff, reader_id)
        href = f"/courses/{bed.course_id}/handoff"
        row = _row(bed.code, bed.summary, group, href, late.get(bed.code, 0), clock, now)
        assigned = _assigned(plan, bed.code, bed.summary.handoff, clock, now)
        grouped[group].append(replace(row, standing=f"{row.standing}{assigned}"))
    order = "bed" if in_bed_order else "worst"
    return RoundPage(
        frame=frame,
        progress=_progress([bed.summary.handoff for bed in taken if bed.summary], reader_id),
        groups=tuple(
            RoundGroup(HEADINGS[key], key, tuple(rows)) for key, rows in grouped.items() if rows
        ),
        orders=(
            NavLink("Worst first", "/handoffs", current=not in_bed_order),
            NavLink("In bed order", "/handoffs?order=bed", current=in_bed_order),
        ),
        version=version,
        rows_href=f"/handoffs/rows?order={order}&version={version}",
    )


def _assigned(
    plan: Plan | None, bed: str, told: HandoffNow, clock: UnitClock, now: datetime
) -> str:
    """Who is to have the bed, and from when where that is still to come."""
    words = assigned_words(plan, bed, told)
    if not words or plan is None:
        return ""
    start = f" from {clock_time(plan.starts_at, now, clock)}" if plan.starts_at > now else ""
    return f"; {words}{start}"


def _worst_first(bed: BoardBed) -> tuple[int, bool, float]:
    assert bed.summary is not None  # noqa: S101 - the caller keeps taken beds only
    told = bed.summary.handoff
    soonest = min(filter(None, (told.next_task_at, bed.summary.due.due_at)))
    level = told.concern if told.concern in WORST_FIRST else ""
    return WORST_FIRST.index(level), False, soonest.timestamp()


def _group(told: HandoffNow, reader_id: str) -> str:
    on_offer = told.standing in (Standing.OFFERED, Standing.RETURNED)
    if on_offer and reader_id == told.offered_to_id:
        return TO_YOU
    if on_offer and not told.offered_to_id and reader_id != told.offer_from_id:
        return TO_YOU
    giver = told.holder_id or told.offer_from_id
    return YOURS if reader_id == giver or not giver else OTHERS


def _row(
    code: str,
    summary: BedSummary,
    group: str,
    href: str,
    late: int,
    clock: UnitClock,
    now: datetime,
) -> RoundRow:
    told = summary.handoff
    worries = worries_of(summary, now, clock)
    told_here = (Tone.FLAG, Tone.OVERDUE, Tone.MUTED)
    flags = [worry.words for worry in worries if worry.tone in told_here]
    task = told.next_task_at if summary.muted is None else None
    return RoundRow(
        bed=code,
        who=summary.name,
        who_line=f"record ends in {summary.record_tail}" if summary.record_tail else "",
        concern=LEVEL_WORDS.get(told.concern, ""),
        concern_words=told.concern_words,
        concern_key=told.concern,
        flags="; ".join(flags),
        state=told.standing.value,
        standing=hold_words(told, clock, now),
        yours=_yours(told, group),
        href=href,
        late=_late_words(late),
        due=check_due(summary, now, clock),
        task=when_in(task, now, clock) if task else None,
    )


def _yours(told: HandoffNow, group: str) -> str:
    if group == TO_YOU:
        waits = told.standing is Standing.RETURNED
        return "Read; the question is open" if waits else "Read and accept"
    if group == OTHERS:
        return "Read"
    if told.standing is Standing.RETURNED:
        return "Answer the question"
    return "Read what you offered" if told.standing is Standing.OFFERED else "Read and offer"


def _late_words(late: int) -> str:
    if not late:
        return ""
    return f"{late} late item to look at" if late == 1 else f"{late} late items to look at"


def _progress(told: Iterable[HandoffNow], reader_id: str) -> tuple[str, ...]:
    """How far the round has come, for both sides: figures with what they count."""
    every = list(told)
    on_offer = [one for one in every if one.standing in (Standing.OFFERED, Standing.RETURNED)]
    yours = [one for one in every if one.holder_id == reader_id]
    open_questions = sum(one.standing is Standing.RETURNED for one in every)
    nobody = sum(not one.holder_id for one in every)
    return (
        f"{len(yours)} of {len(every)} beds are yours",
        f"{len(on_offer)} offered and not accepted",
        f"{open_questions} returned with a question",
        f"{nobody} nobody has yet",
    )
