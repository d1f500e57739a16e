"""How long a patient breathed off the ventilator, by calendar day in the unit."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime, time, timedelta

from app.charting.off_ventilator import Span
from app.rules.unit_clock import UnitClock


def time_by_day(spans: Iterable[Span], now: datetime, clock: UnitClock) -> Mapping[date, timedelta]:
    """Elapsed time on each calendar day of the unit's zone, newest last; what goes on until `now`.

    A day on which the clock changes has 23 or 25 hours, and every one of them counts.
    """
    found: dict[date, timedelta] = {}
    for span in spans:
        until = min(span.until or now, now)
        at = span.from_at
        while at < until:
            day = clock.day(at)
            end = min(until, _midnight_after(day, clock))
            found[day] = found.get(day, timedelta()) + (end - at)
            at = end
    return dict(sorted(found.items()))


def _midnight_after(day: date, clock: UnitClock) -> datetime:
    return clock.first_moment(datetime.combine(day + timedelta(days=1), time()))[0]
