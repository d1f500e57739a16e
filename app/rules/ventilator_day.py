"""The ventilator day: calendar days in the unit's zone, counted from one (decision 6)."""

from datetime import datetime

from msgspec import Struct

from app.charting.facts import CourseFacts
from app.charting.off_ventilator import invasive_since, off_invasive
from app.rules.unit_clock import UnitClock


class Counted(Struct, frozen=True):
    """From when the days are counted, and since when the patient is off invasive support."""

    from_at: datetime
    off_since: datetime | None = None


def counted(facts: CourseFacts, gap_days: int, clock: UnitClock) -> Counted:
    """From where the days count: where invasive support began, or began anew after a long gap.

    A gap restarts the count once it holds `gap_days` whole calendar days of the unit's zone: from
    Monday 23:59 to Wednesday 00:00 it holds one, from Monday 00:01 to Tuesday 23:59 none.
    """
    from_at, off_since = invasive_since(facts), None
    for gap in off_invasive(facts):
        if gap.until is None:
            off_since = gap.from_at
        elif (clock.day(gap.until) - clock.day(gap.from_at)).days > gap_days:
            from_at = gap.until
    return Counted(from_at, off_since)


def ventilator_day(support_started_at: datetime, now: datetime, clock: UnitClock) -> int:
    """The number of the day at `now`; 1 on the day of the start, whatever the hour.

    Raises ValueError when `now` lies before the start.
    """
    if now < support_started_at:
        raise ValueError("the moment lies before support started")
    return (clock.day(now) - clock.day(support_started_at)).days + 1


def day_rule(gap_days: int) -> str:
    """The rule in words, as it stands beside the number."""
    days = "one whole calendar day" if gap_days == 1 else f"{gap_days} whole calendar days"
    return f"calendar days since invasive support began; a gap without {days} counts on"
