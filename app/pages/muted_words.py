"""That nothing is judged or due at a course, and why: never drawn as "no flag raised"."""

from collections.abc import Iterator
from datetime import datetime

from app.pages.shown import Tone, Worry
from app.pages.times import clock_time
from app.rules.bed_summary import BedSummary
from app.rules.muted import CLOSED, Muted
from app.rules.unit_clock import UnitClock

CLOSED_DETAIL = "Nothing is due or judged any more; everything stays readable"
QUIET_DETAIL = "Limits, flags and what is due are muted; charting goes on"


def muted_words(muted: Muted, now: datetime, clock: UnitClock) -> str:
    """ "Quiet since 14:05", or "Closed 14:05", with why in the words of whoever wrote it."""
    said = "Closed" if muted.kind == CLOSED else "Quiet since"
    return f"{said} {clock_time(muted.since, now, clock)}. {muted.words}"


def muted_short(muted: Muted, now: datetime, clock: UnitClock) -> str:
    """The same without the reason, in the middle of a line."""
    said = "closed" if muted.kind == CLOSED else "quiet since"
    return f"{said} {clock_time(muted.since, now, clock)}"


def muted_worry(summary: BedSummary, now: datetime, clock: UnitClock) -> Iterator[Worry]:
    """The line that stands in place of limits, flags and due times; nothing where none are muted.

    It opens nowhere: the page that ends it is among the acts of the bed.
    """
    muted = summary.muted
    if muted is None:
        return
    detail = CLOSED_DETAIL if muted.kind == CLOSED else QUIET_DETAIL
    by = f"{detail}, {muted.author}" if muted.author else detail
    yield Worry(Tone.MUTED, muted_words(muted, now, clock), by)
