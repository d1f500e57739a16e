"""Moments of a story: so long ago, or the newest time of day that lies far enough back."""

from collections.abc import Iterator
from datetime import UTC, datetime, time, timedelta

from msgspec import Struct

from app.rules.policy import Rounds
from app.rules.unit_clock import UnitClock


class Ago(Struct, frozen=True):
    """So many hours before now."""

    hours: float

    def before(self, now: datetime, clock: UnitClock) -> datetime:
        """The moment, to the minute."""
        del clock
        ago = now.astimezone(UTC) - timedelta(hours=self.hours)
        return ago.replace(second=0, microsecond=0)


class At(Struct, frozen=True):
    """The newest moment at which the unit's clock shows this time, at least so many hours ago."""

    time: time
    at_least_h: float = 0.0

    def before(self, now: datetime, clock: UnitClock) -> datetime:
        """The moment, in UTC."""
        latest = now.astimezone(UTC) - timedelta(hours=self.at_least_h)
        return max(at for at in wall_moments((self.time,), latest, 2, clock) if at <= latest)


When = Ago | At


def wall_moments(
    times: tuple[time, ...], until: datetime, days: int, clock: UnitClock
) -> Iterator[datetime]:
    """Every moment of these wall times on the day of `until` and so many days before it."""
    today = clock.day(until)
    for back in range(days, -1, -1):
        for at in times:
            yield from clock.first_moment(datetime.combine(today - timedelta(days=back), at))


def rounds_between(
    start: datetime, end: datetime, rounds: Rounds, clock: UnitClock
) -> tuple[datetime, ...]:
    """The unit's round times from start to end, oldest first."""
    days = (end - start).days + 2
    found = wall_moments(rounds.times, end, days, clock)
    return tuple(sorted(at for at in found if start <= at <= end))
