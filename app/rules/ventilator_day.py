"""The ventilator day: calendar days in the unit's zone, counted from one (decision 6)."""

from datetime import datetime

from app.rules.unit_clock import UnitClock

DAY_RULE = "calendar days in the unit's zone, day 1 when support began"


def ventilator_day(support_started_at: datetime, now: datetime, clock: UnitClock) -> int:
    """The number of the day at `now`; 1 on the day of the start, whatever the hour.

    Raises ValueError when `now` lies before the start.
    """
    if now < support_started_at:
        raise ValueError("the moment lies before support started")
    return (clock.day(now) - clock.day(support_started_at)).days + 1
