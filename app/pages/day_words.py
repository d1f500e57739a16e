"""The ventilator day in words, with since when the patient is off invasive support."""

from datetime import datetime

from app.pages.times import clock_time
from app.rules.bed_summary import BedSummary
from app.rules.unit_clock import UnitClock
from app.rules.ventilator_day import Counted, ventilator_day


def day_of(summary: BedSummary, now: datetime, clock: UnitClock) -> str:
    """The day of a bed's line."""
    return day_words(summary.days or Counted(summary.support_started_at), now, clock)


def day_words(days: Counted, now: datetime, clock: UnitClock) -> str:
    """ "day 5"; "day 5, off since 14:05", where the count stands still; "not started"."""
    if now < days.from_at:
        return "not started"
    off = days.off_since
    if off is None or off > now:
        return f"day {ventilator_day(days.from_at, now, clock)}"
    day = ventilator_day(days.from_at, max(off, days.from_at), clock)
    return f"day {day}, off since {clock_time(off, now, clock)}"
