"""Build a therapist's first page: the beds that are theirs, and what is due there in two hours.

Theirs are those they accepted (decision 10). Those of a colleague for whom they cover stand below
with what is due, and last those that they are assigned to and have not accepted.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from enum import IntEnum

from msgspec import Struct

from app.pages.assigned_words import assigned_words, cover_words
from app.pages.board import BoardBed
from app.pages.day_words import day_of
from app.pages.due_words import due_line, due_lines
from app.pages.frame import Frame
from app.pages.mine_page import DueAtBed, MinePage, MyBed
from app.pages.muted_words import muted_short
from app.pages.shown import Worry
from app.pages.site_words import PLAIN, SiteWords
from app.pages.times import clock_time
from app.pages.worries import NO_FLAG, worries_of
from app.rules.bed_summary import BedSummary
from app.rules.due_item import DueItem
from app.rules.handoff_state import HandoffNow, Standing
from app.rules.shift_plan import Plan
from app.rules.unit_clock import UnitClock

AHEAD = timedelta(hours=2)
"""What a first page looks ahead (what is due in the next two hours: common practice)."""

HOW_BEDS_COME = (
    "No bed is yours now.",
    "A bed becomes yours when you accept its handoff, or take one that nobody has.",
    "Being offered one changes nothing yet.",
)


class Why(IntEnum):
    """How a bed comes to stand on somebody's page, in the order of the page."""

    ACCEPTED = 0
    COVERED = 1
    ASSIGNED = 2


class _Here(Struct, frozen=True):
    """One bed of the page."""

    bed: BoardBed
    summary: BedSummary
    why: Why


def mine_page(
    frame: Frame,
    beds: Sequence[BoardBed],
    *,
    reader_id: str,
    clock: UnitClock,
    now: datetime,
    version: str,
    words: SiteWords = PLAIN,
    plan: Plan | None = None,
) -> MinePage:
    """The page at `now`: overdue first, then by time; beds by the soonest thing due at them."""
    here = sorted(_here(beds, reader_id, plan, now), key=_place)
    looked_after = [each for each in here if each.why is not Why.ASSIGNED]
    return MinePage(
        frame=frame,
        summary_words=_summary_words(here, now),
        in_order=_in_order(looked_after, now, clock),
        beds=tuple(_bed(each, plan, now, clock, words) for each in here),
        offered_words=_offered(beds, reader_id),
        cover_words=_covers(reader_id, plan, now, clock),
        empty_words=() if here else HOW_BEDS_COME,
        version=version,
        rows_href=f"/mine/rows?version={version}",
    )


def _here(
    beds: Iterable[BoardBed], reader_id: str, plan: Plan | None, now: datetime
) -> Iterator[_Here]:
    covered = plan.covered_by(reader_id, now) if plan is not None else frozenset()
    for bed in beds:
        if bed.summary is None:
            continue
        told = bed.summary.handoff
        if is_mine(told, reader_id):
            yield _Here(bed, bed.summary, Why.ACCEPTED)
        elif told.holder_id in covered:
            yield _Here(bed, bed.summary, Why.COVERED)
        elif plan is not None and reader_id and plan.assigned_id(bed.code) == reader_id:
            yield _Here(bed, bed.summary, Why.ASSIGNED)


def is_mine(told: HandoffNow, reader_id: str) -> bool:
    """Whether this person has the bed: by acceptance only (decision 10)."""
    return reader_id != "" and told.holder_id == reader_id


def edges_of(beds: Iterable[BoardBed], reader_id: str, plan: Plan | None = None) -> list[datetime]:
    """The moments at which time alone changes this page, in order."""
    found = set(plan.edges()) if plan is not None else set()
    covers = plan.covers if plan is not None else ()
    holders = {cover.for_id for cover in covers if cover.staff_id == reader_id} | {reader_id}
    for bed in beds:
        if bed.summary is None or bed.summary.handoff.holder_id not in holders - {""}:
            continue
        for item in bed.summary.due_items:
            found |= {item.due_at - AHEAD, item.late_at, item.overdue_at}
    return sorted(found)


def _place(each: _Here) -> tuple[int, bool, datetime, str]:
    """A bed that somebody is away from comes last: nothing is due there meanwhile."""
    times = (item.due_at for item in each.summary.due_items)
    soonest = min(times, default=each.summary.due.due_at)
    paused = each.summary.away is not None or each.summary.muted is not None
    return each.why, paused, soonest, each.bed.code


def _coming(summary: BedSummary, now: datetime) -> list[DueItem]:
    return [item for item in summary.due_items if item.due_at <= now + AHEAD]


def _in_order(here: Sequence[_Here], now: datetime, clock: UnitClock) -> tuple[DueAtBed, ...]:
    found = [
        (item.due_at, each.bed, due_line(item, each.summary.away, now, clock))
        for each in here
        if each.summary.away is None
        for item in _coming(each.summary, now)
    ]
    found.sort(key=lambda told: (told[2].state != "overdue", told[0], told[1].code))
    return tuple(DueAtBed(bed.code, f"/courses/{bed.course_id}", due) for _, bed, due in found)


def _bed(
    here: _Here, plan: Plan | None, now: datetime, clock: UnitClock, words: SiteWords
) -> MyBed:
    bed, summary = here.bed, here.summary
    href = f"/courses/{bed.course_id}"
    worries = worries_of(summary, now, clock, words=words, base=href)
    due = due_lines(summary, now, clock, ahead=AHEAD)
    next_check = f"next: {due[-1].what} {due[-1].when.text}" if due and due[-1].when else ""
    coming = bool(_coming(summary, now))
    if here.why is Why.ASSIGNED:
        return _in_short(here, worries[:1], plan, now, clock)
    return MyBed(
        bed=bed.code,
        who=summary.name,
        who_line=_who_line(summary, now, clock),
        href=href,
        why_mine=_why_mine(here, plan, now, clock),
        worries=worries,
        quiet_words="" if worries else NO_FLAG,
        due=due if coming else (),
        quiet_due="" if coming else _quiet_due(summary, next_check, now, clock),
        assess_href=f"{href}/assess",
        handoff_href=f"{href}/handoff",
    )


def _quiet_due(summary: BedSummary, next_check: str, now: datetime, clock: UnitClock) -> str:
    if summary.muted is not None:
        return f"What is due is muted: {muted_short(summary.muted, now, clock)}"
    return f"Nothing due in two hours; {next_check}".rstrip("; ")


def _in_short(
    here: _Here, worries: tuple[Worry, ...], plan: Plan | None, now: datetime, clock: UnitClock
) -> MyBed:
    """A bed that is not this person's yet: its most pressing line, and the way to its handoff."""
    href = f"/courses/{here.bed.course_id}"
    return MyBed(
        bed=here.bed.code,
        who=here.summary.name,
        who_line=_who_line(here.summary, now, clock),
        href=href,
        why_mine=_why_mine(here, plan, now, clock),
        worries=worries,
        quiet_words="" if worries else NO_FLAG,
        due=(),
        quiet_due="",
        assess_href="",
        handoff_href=f"{href}/handoff",
    )


def _who_line(summary: BedSummary, now: datetime, clock: UnitClock) -> str:
    day = day_of(summary, now, clock)
    concern = f"{summary.handoff.concern} concern" if summary.handoff.concern else ""
    return " · ".join(filter(None, (day, concern)))


def _why_mine(here: _Here, plan: Plan | None, now: datetime, clock: UnitClock) -> str:
    told = here.summary.handoff
    has = f"{told.holder} has it" if told.holder else "nobody has it yet"
    if here.why is Why.COVERED:
        return f"you cover; {has}"
    if here.why is Why.ASSIGNED:
        return f"assigned to you this shift, not accepted; {has}"
    since = f" since {clock_time(told.taken_at, now, clock)}" if told.taken_at else ""
    offered = ""
    if told.standing in (Standing.OFFERED, Standing.RETURNED):
        offered = f", offered to {told.offered_to or 'whoever comes'}"
    assigned = assigned_words(plan, here.bed.code, told)
    return f"yours{since}{offered}{f'; {assigned}' if assigned else ''}"


def _covers(reader_id: str, plan: Plan | None, now: datetime, clock: UnitClock) -> tuple[str, ...]:
    """Whom this person covers for now, and who covers for them."""
    covers = plan.covers_now(now) if plan is not None else ()
    return tuple(
        cover_words(cover, now, clock)
        for cover in covers
        if reader_id in (cover.staff_id, cover.for_id)
    )


def _offered(beds: Sequence[BoardBed], reader_id: str) -> str:
    """Beds on offer to this person by name."""
    codes = [
        bed.code
        for bed in beds
        if bed.summary is not None
        and bed.summary.handoff.offered_at is not None
        and bed.summary.handoff.offered_to_id == reader_id
    ]
    if not codes:
        return ""
    return f"Offered to you and not accepted yet: {', '.join(codes)}"


def _summary_words(here: Sequence[_Here], now: datetime) -> str:
    """Of the beds that somebody accepted; what they cover or are assigned to is named apart."""
    if not here:
        return ""
    mine = [each.summary for each in here if each.why is Why.ACCEPTED]
    overdue = sum(
        item.state(now, summary.away) == "overdue" for summary in mine for item in summary.due_items
    )
    flagged = sum(bool(summary.adult and summary.flags_at(now)) for summary in mine)
    beds = "1 bed" if len(mine) == 1 else f"{len(mine)} beds"
    things = "thing" if overdue == 1 else "things"
    late = f"{overdue} {things} overdue" if overdue else "nothing overdue"
    covered = sum(each.why is Why.COVERED for each in here)
    assigned = sum(each.why is Why.ASSIGNED for each in here)
    parts = [f"{beds}, {flagged} with a flag, {late}" if mine else "No bed is yours now"]
    parts += [f"{covered} that you cover"] if covered else []
    parts += [f"{assigned} assigned to you and not accepted"] if assigned else []
    return "; ".join(parts)
