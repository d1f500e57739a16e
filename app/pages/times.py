"""How a page writes a moment: clock time in the unit's zone, the day when it is another one."""

from datetime import UTC, datetime

from app.pages.shown import When
from app.rules.unit_clock import UnitClock


def clock_time(moment: datetime, now: datetime, clock: UnitClock) -> str:
    """ "03:30", "24 Nov 19:30" on another day; with the zone where a clock change is near."""
    local = clock.local(moment)
    day = "" if local.date() == clock.day(now) else f"{local.day} {local:%b} "
    zone = f" {local.tzname()}" if clock.change_near(moment) else ""
    return f"{day}{local:%H:%M}{zone}"


def when_in(moment: datetime, now: datetime, clock: UnitClock) -> When:
    """The moment for machine and reader."""
    return When(iso(moment), clock_time(moment, now, clock))


def full_time(moment: datetime, clock: UnitClock) -> When:
    """Day, time and zone, for the page's own clock and for paper: "Thu 26 Nov 2026, 02:05 EST"."""
    local = clock.local(moment)
    return When(iso(moment), f"{local:%a} {local.day} {local:%b %Y, %H:%M} {local.tzname()}")


def input_time(moment: datetime, clock: UnitClock) -> str:
    """The unit's wall time as a date-and-time input wants it: "2026-11-26T03:28"."""
    return f"{clock.local(moment):%Y-%m-%dT%H:%M}"


def iso(moment: datetime) -> str:
    """The moment in UTC for a machine, to the second."""
    return moment.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
