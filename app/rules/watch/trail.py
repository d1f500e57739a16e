"""The values of one series in time, and which of them may be compared with each other."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from statistics import median
from typing import NamedTuple

KEPT_H = 80.0
"""Hours of values that are kept: three days and the night before."""

STEP_H = 12.0
"""Hours between two values over which they no longer confirm each other."""


class Point(NamedTuple):
    """One valid value; `hour` counts from the start of support, `epoch` from the last restart."""

    at: datetime
    hour: float
    value: float
    epoch: int


class Trail:
    """Values of one series, oldest first."""

    __slots__ = ("points",)

    def __init__(self) -> None:
        self.points: list[Point] = []

    def add(self, point: Point) -> None:
        """Take a value over; what is older than KEPT_H goes."""
        points = self.points
        points.append(point)
        if points[0].hour < point.hour - KEPT_H:
            self.points = [kept for kept in points if kept.hour >= point.hour - KEPT_H]

    def recent(self, count: int) -> list[Point]:
        """The newest values, at most `count`, none more than STEP_H from the one after it."""
        points = self.points
        found = [points[-1]]
        for point in reversed(points[-count:-1]):
            if found[-1].hour - point.hour > STEP_H:
                break
            found.append(point)
        return found

    def before(self, newest: int, window_h: float, least_h: float = 0.0) -> list[Point]:
        """Values of the newest one's epoch before the last `newest`, within the window of hours
        that ends with it, and at least `least_h` old."""
        last = self.points[-1]
        low, high, epoch = last.hour - window_h, last.hour - least_h, last.epoch
        older = self.points[:-newest]
        return [p for p in older if low <= p.hour <= high and p.epoch == epoch]


@dataclass(frozen=True, slots=True)
class Evidence:
    """Why a rule raises: the values, newest last, and what they were held against."""

    points: tuple[Point, ...]
    side: str
    against: float
    """The limit, or the level that a drift is measured from."""


def level_of(points: Sequence[Point]) -> float:
    """The median: one bad value does not move it."""
    return median([point.value for point in points])
