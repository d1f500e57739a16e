"""The two axes of a trend: time in percent of the span, values between round figures.

Geometry only, so floats are enough; every number that a page writes out comes from elsewhere.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta

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


@dataclass(frozen=True, slots=True)
class TimeAxis:
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


@dataclass(frozen=True, slots=True)
class ValueAxis:
    """Between which two round figures the values lie."""

    low: float
    high: float
    places: int

    def at(self, number: float) -> str:
        """How far down from the top, in percent; a figure outside is put at the edge."""
        return percent(self.share(number))

    def share(self, number: float) -> float:
        """The same as a number, 0 at the top."""
        return min(100.0, max(0.0, 100 * (self.high - number) / (self.high - self.low)))

    def words(self, number: float) -> str:
        """A figure of the axis."""
        return f"{number:.{self.places}f}".replace("-", "−")


def value_axis(numbers: Iterable[float]) -> ValueAxis:
    """Round figures that hold every number with room to spare. Needs at least one number."""
    found = sorted(numbers)
    low, high = found[0], found[-1]
    room = (high - low) or abs(high) * 0.1 or 1.0
    step = _round_step(room / 2)
    bottom = math.floor((low - room * 0.05) / step) * step
    top = math.ceil((high + room * 0.05) / step) * step
    bottom = max(0.0, bottom) if low >= 0 else bottom
    places = max(0, -math.floor(math.log10(step)))
    return ValueAxis(bottom, top, places)


def _round_step(room: float) -> float:
    """The largest of 1, 2, 5 times a power of ten that is not over the room."""
    power = 10.0 ** math.floor(math.log10(room))
    return next(n * power for n in (5, 2, 1) if n * power <= room * (1 + 1e-9))


def ticks(axis: TimeAxis, clock: UnitClock) -> tuple[Tick, ...]:
    """Round hours of the unit's clock, or midnights with the day, at most five of them."""
    hours = (axis.to_at - axis.from_at).total_seconds() / 3600
    step = next((each for each in _STEPS if hours / each <= _MOST_TICKS), _STEPS[-1])
    return tuple(
        Tick(axis.at(moment), _tick_words(moment, clock, step), _anchor(axis.share(moment)))
        for moment in _round_moments(axis, clock, step)
    )


def _round_moments(axis: TimeAxis, clock: UnitClock, step: int) -> Iterator[datetime]:
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
