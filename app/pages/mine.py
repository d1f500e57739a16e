"""Build a therapist's first page: the beds that are theirs, and what is due there in two hours."""

from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from app.pages.board import BoardBed
from app.pages.day_words import day_of
from app.pages.due_words import due_line, due_lines
from app.pages.frame import Frame
from app.pages.mine_page import DueAtBed, MinePage, MyBed
from app.pages.site_words import PLAIN, SiteWords
from app.pages.times import clock_time
from app.pages.worries import NO_FLAG, worries_of
from app.rules.bed_summary import BedSummary
from app.rules.due_items import DueItem
from app.rules.handoff_state import HandoffNow, Standing
from app.rules.unit_clock import UnitClock

AHEAD = timedelta(hours=2)
"""What a first page looks ahead (what is due in the next two hours: common practice)."""

HOW_BEDS_COME = (
    "No bed is yours now.",
    "A bed becomes yours when you accept its handoff, or take one that nobody has.",
    "Being offered one changes nothing yet.",
)


def mine_page(
    frame: Frame,
    beds: Sequence[BoardBed],
    *,
    reader_id: str,
    clock: UnitClock,
    now: datetime,
    version: str,
    words: SiteWords = PLAIN,
) -> MinePage:
    """The page at `now`: overdue first, then by time; beds by the soonest thing due at them."""
    mine = [
        (bed, bed.summary)
        for bed in beds
        if bed.summary is not None and is_mine(bed.summary.handoff, reader_id)
    ]
    mine.sort(key=lambda pair: (_soonest(pair[1]), pair[0].code))
    return MinePage(
        frame=frame,
        summary_words=_summary_words([summary for _, summary in mine], now),
        in_order=_in_order(mine, now, clock),
        beds=tuple(_bed(bed, summary, now, clock, words) for bed, summary in mine),
        offered_words=_offered(beds, reader_id),
        empty_words=() if mine else HOW_BEDS_COME,
        version=version,
        rows_href=f"/mine/rows?version={version}",
    )


def is_mine(told: HandoffNow, reader_id: str) -> bool:
    """Whether this person has the bed: by acceptance only (decision 10)."""
    return reader_id != "" and told.holder_id == reader_id


def edges_of(beds: Iterable[BoardBed], reader_id: str) -> list[datetime]:
    """The moments at which time alone changes this page, in order."""
    found: set[datetime] = set()
    for bed in beds:
        if bed.summary is None or not is_mine(bed.summary.handoff, reader_id):
            continue
        for item in bed.summary.due_items:
            found |= {item.due_at - AHEAD, item.late_at, item.overdue_at}
    return sorted(found)


def _soonest(summary: BedSummary) -> tuple[bool, datetime]:
    """A bed that somebody is away from comes last: nothing is due there meanwhile."""
    times = (item.due_at for item in summary.due_items)
    return summary.away is not None, min(times, default=summary.due.due_at)


def _coming(summary: BedSummary, now: datetime) -> list[DueItem]:
    return [item for item in summary.due_items if item.due_at <= now + AHEAD]


def _in_order(
    mine: Sequence[tuple[BoardBed, BedSummary]], now: datetime, clock: UnitClock
) -> tuple[DueAtBed, ...]:
    found = [
        (item.due_at, bed, due_line(item, summary.away, now, clock))
        for bed, summary in mine
        if summary.away is None
        for item in _coming(summary, now)
    ]
    found.sort(key=lambda told: (told[2].state != "overdue", told[0], told[1].code))
    return tuple(DueAtBed(bed.code, f"/courses/{bed.course_id}", due) for _, bed, due in found)


def _bed(
    bed: BoardBed, summary: BedSummary, now: datetime, clock: UnitClock, words: SiteWords
) -> MyBed:
    href = f"/courses/{bed.course_id}"
    worries = worries_of(summary, now, clock, words=words, base=href)
    due = due_lines(summary, now, clock, ahead=AHEAD)
    next_check = f"next: {due[-1].what} {due[-1].when.text}" if due and due[-1].when else ""
    coming = bool(_coming(summary, now))
    return MyBed(
        bed=bed.code,
        who=summary.name,
        who_line=_who_line(summary, now, clock),
        href=href,
        why_mine=_why_mine(summary.handoff, now, clock),
        worries=worries,
        quiet_words="" if worries else NO_FLAG,
        due=due if coming else (),
        quiet_due="" if coming else f"Nothing due in two hours; {next_check}".rstrip("; "),
        assess_href=f"{href}/assess",
        handoff_href=f"{href}/handoff",
    )


def _who_line(summary: BedSummary, now: datetime, clock: UnitClock) -> str:
    day = day_of(summary, now, clock)
    concern = f"{summary.handoff.concern} concern" if summary.handoff.concern else ""
    return " · ".join(filter(None, (day, concern)))


def _why_mine(told: HandoffNow, now: datetime, clock: UnitClock) -> str:
    since = f" since {clock_time(told.taken_at, now, clock)}" if told.taken_at else ""
    offered = ""
    if told.standing in (Standing.OFFERED, Standing.RETURNED):
        offered = f", offered to {told.offered_to or 'whoever comes'}"
    return f"yours{since}{offered}"


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


def _summary_words(mine: Sequence[BedSummary], now: datetime) -> str:
    if not mine:
        return ""
    overdue = sum(
        item.state(now, summary.away) == "overdue" for summary in mine for item in summary.due_items
    )
    flagged = sum(bool(summary.adult and summary.flags_at(now)) for summary in mine)
    beds = "1 bed" if len(mine) == 1 else f"{len(mine)} beds"
    late = f"{overdue} overdue" if overdue else "nothing overdue"
    return f"{beds}, {flagged} with a flag, {late}"
