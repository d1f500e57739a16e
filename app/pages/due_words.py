"""What is due, in words, and whether its moment has passed."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from app.pages.flag_words import series_words
from app.pages.muted_words import muted_short
from app.pages.shown import Due, Tone, Worry
from app.pages.times import clock_time, when_in
from app.rules.away import NO_WORD_AFTER, Away
from app.rules.bed_summary import BedSummary
from app.rules.due_item import DueItem
from app.rules.due_items import READ_AGAIN
from app.rules.muted import CLOSED
from app.rules.unit_clock import UnitClock

AHEAD = timedelta(hours=4)
"""How far a bed's own list looks ahead; the next check stands in it whenever it is due."""


def due_lines(
    summary: BedSummary,
    now: datetime,
    clock: UnitClock,
    *,
    ahead: timedelta = AHEAD,
    without: frozenset[str] = frozenset(),
) -> tuple[Due, ...]:
    """What is due by `now + ahead`, soonest first, and the next check; `without` some kinds."""
    return tuple(
        due_line(item, summary.away, now, clock)
        for item in summary.due_items
        if item.kind not in without and (item.kind == "check" or item.due_at <= now + ahead)
    )


def nothing_due(summary: BedSummary, now: datetime, clock: UnitClock) -> str:
    """What is said where nothing is due: that it is muted, where it is."""
    muted = summary.muted
    if muted is not None and muted.kind == CLOSED:
        return "Nothing is due any more: the course is closed."
    if muted is not None:
        return f"What is due is muted: {muted_short(muted, now, clock)}."
    return "Nothing is due."


def due_line(item: DueItem, away: Away | None, now: datetime, clock: UnitClock) -> Due:
    """One of them; what is overdue says since when it was due."""
    state = item.state(now, away)
    words = {"paused": "paused", "overdue": "overdue"}.get(state, "")
    return Due(item_words(item), state, when_in(item.due_at, now, clock), words)


def check_due(summary: BedSummary, now: datetime, clock: UnitClock) -> Due:
    """The next full check, or why none is due."""
    if summary.muted is not None:
        return Due("check", "paused", None, muted_short(summary.muted, now, clock))
    if summary.away is not None:
        return Due("check", "paused", None, away_words(summary.away, now, clock).lower())
    state = summary.due.state(now)
    words = "was due" if state == "overdue" else ""
    return Due("check", state, when_in(summary.due.due_at, now, clock), words)


def item_words(item: DueItem) -> str:
    """What is due, with whose it is where somebody was named."""
    what = item.what
    if item.kind == READ_AGAIN:
        what = f"read again: {series_words(item.what) or item.what}"
    return f"{what} ({item.owner})" if item.owner else what


def away_words(away: Away, now: datetime, clock: UnitClock) -> str:
    """ "Away since 14:05"; after two hours "away 2 h, no word" (decision 31)."""
    said = {"away": "Away", "standby": "On standby"}[away.kind]
    since = f"{said} since {clock_time(away.since, now, clock)}"
    if now < away.no_word_at():
        return since
    hours = int((now - away.since) / timedelta(hours=1))
    return f"{since}: {hours} h, no word"


def away_worry(summary: BedSummary, now: datetime, clock: UnitClock) -> Iterator[Worry]:
    """The pause as a line of its own, where there is one."""
    if summary.away is not None:
        silent = now - summary.away.since >= NO_WORD_AFTER and summary.muted is None
        tone = Tone.OVERDUE if silent else Tone.AWAY
        yield Worry(tone, away_words(summary.away, now, clock), "What is due is paused")
