"""The axis of time that trends and timelines share: a span, its share in percent, round hours.

Geometry only, so floats are enough; every number that a page writes out comes from elsewhere.
"""

from collections.abc import Iterator
from datetime import datetime, time, timedelta

from msgspec import Struct

from app.pages.trends_page import Tick
from app.rules.unit_clock import UnitClock

SPANS: dict[str, tuple[str, timedelta | None]] = {
    "6h": ("6 h", timedelta(hours=6)),
    "12h": ("12 h", timedelta(hours=12)),
    "24h": ("24 h", timedelta(hours=24)),
    "3d": ("3 days", timedelta(days=3)),
    "7d": ("7 days", timedelta(days=7)),
    "all": ("Whole course", None),
}
"""What an address names, the words, the length; the whole course has no length of its own."""

USUAL_SPAN = "24h"
LEAST = timedelta(hours=1)
"""A course that has only begun is still drawn over an hour."""

_STEPS = (2, 3, 6, 12, 24, 48, 96, 168, 336, 720)
_MOST_TICKS = 5


class TimeAxis(Struct, frozen=True):
    """From when to when; both ends belong to it."""

    from_at: datetime
    to_at: datetime

    def holds(self, moment: datetime) -> bool:
        """Whether the moment is shown."""
        return self.from_at <= moment <= self.to_at

    def share(self, moment: datetime) -> float:
        """Where the moment lies, 0 to 100; what lies outside is put at the nearer end."""
        whole = (self.to_at - self.from_at).total_seconds()
        passed = (moment - self.from_at).total_seconds()
        return min(100.0, max(0.0, 100 * passed / whole))

    def at(self, moment: datetime) -> str:
        """The same as a picture writes it."""
        return percent(self.share(moment))


def time_axis(span: str, started_at: datetime, end: datetime) -> TimeAxis:
    """The span that ends at `end`; the whole course begins where its support did."""
    length = SPANS[span][1]
    begin = end - length if length is not None else min(started_at, end - LEAST)
    return TimeAxis(begin, end)


def ticks(axis: TimeAxis, clock: UnitClock) -> tuple[Tick, ...]:
    """Where and with which words the axis of a timeline is marked."""
    return tuple(
        Tick(axis.at(moment), words, _anchor(axis.share(moment)))
        for moment, words in round_moments(axis, clock)
    )


def round_moments(axis: TimeAxis, clock: UnitClock) -> Iterator[tuple[datetime, str]]:
    """Round hours of the unit's clock, or midnights with the day, at most five of them."""
    hours = (axis.to_at - axis.from_at).total_seconds() / 3600
    step = next((each for each in _STEPS if hours / each <= _MOST_TICKS), _STEPS[-1])
    for moment in _each_round_moment(axis, clock, step):
        yield moment, _tick_words(moment, clock, step)


def _each_round_moment(axis: TimeAxis, clock: UnitClock, step: int) -> Iterator[datetime]:
    wall = datetime.combine(clock.local(axis.from_at).date(), time())
    end = clock.local(axis.to_at).replace(tzinfo=None)
    while wall <= end:
        moments = clock.moments_of(wall)
        if moments and axis.holds(moments[0]):
            yield moments[0]
        wall += timedelta(hours=step)


def _tick_words(moment: datetime, clock: UnitClock, step: int) -> str:
    local = clock.local(moment)
    day = f"{local.day} {local:%b}"
    if step >= 24:
        return day
    return day if local.hour == 0 else f"{local:%H:%M}"


def _anchor(share: float) -> str:
    """A word at an edge must not leave the picture."""
    if share < 6:
        return "start"
    return "end" if share > 94 else "middle"


def percent(share: float) -> str:
    """A share as a picture writes it."""
    return f"{share:.2f}%"
