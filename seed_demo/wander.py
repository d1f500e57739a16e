"""How a lung changes over days: a told course, and around it the slow wandering of real lungs."""

import math
from bisect import bisect_right
from random import Random

from msgspec import Struct


class Arc(Struct, frozen=True):
    """A told course of one figure: points of (hours before now as a negative number, value).

    Between points it runs straight on a logarithmic scale, before the first and after the last it
    stands still. Values are above zero.
    """

    points: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        hours = [hour for hour, _ in self.points]
        if not hours or hours != sorted(set(hours)) or any(value <= 0 for _, value in self.points):
            raise ValueError("an arc needs points in order of time, with values above zero")

    def at(self, hour: float) -> float:
        """The value at an hour; 0 is now."""
        hours = [point for point, _ in self.points]
        after = bisect_right(hours, hour)
        if after == 0:
            return self.points[0][1]
        if after == len(self.points):
            return self.points[-1][1]
        (start, low), (end, high) = self.points[after - 1], self.points[after]
        share = (hour - start) / (end - start)
        return low * math.exp(share * math.log(high / low))


def level(value: float) -> Arc:
    """A figure that stays as it is."""
    return Arc(((0.0, value),))


class LogWander:
    """A factor around 1 that wanders: the exponential of an Ornstein–Uhlenbeck process.

    Exact over any step: x(t + dt) = x · e + s · √(1 − e²) · N with e = exp(−dt / memory), so ln of
    the factor has the standard deviation `spread` at all times, and half its pull home comes within
    0.69 of the memory. Source: the textbook transition of that process (from memory).
    """

    def __init__(self, spread: float, memory_h: float, rng: Random) -> None:
        self._spread, self._memory, self._rng = spread, memory_h, rng
        self._x = rng.gauss(0.0, spread)

    @property
    def factor(self) -> float:
        """The factor now."""
        return math.exp(self._x)

    def forward(self, hours: float) -> float:
        """Let so many hours pass; returns the factor then."""
        kept = math.exp(-hours / self._memory)
        chance = self._rng.gauss(0.0, 1.0)
        self._x = self._x * kept + self._spread * math.sqrt(1 - kept * kept) * chance
        return self.factor
