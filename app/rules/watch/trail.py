"""The values of one series in time, and which of them may be compared with each other."""

from collections.abc import Sequence
from datetime import datetime
from statistics import median
from typing import NamedTuple

from msgspec import Struct

KEPT_H = 80.0
"""Hours of values that are kept: three days and the night before."""

MANY = 128
"""Values of a series after which those too old to matter are let go, half of them at a time."""

STEP_H = 12.0
"""Hours between two values over which they no longer confirm each other."""


class Point(NamedTuple):
    """One valid value; `hour` counts from the start of support, `epoch` from the last restart."""

    at: datetime
    hour: float
    value: float
    epoch: int


class Trail:
    """Values of one series, oldest first, with the extremes of the newest epoch."""

    __slots__ = ("highest", "lowest", "points")

    def __init__(self) -> None:
        self.points: list[Point] = []
        self.lowest = self.highest = 0.0

    def add(self, point: Point) -> None:
        """Take a value over; what is older than KEPT_H goes sooner or later."""
        points, value = self.points, point.value
        if not points or points[-1].epoch != point.epoch:
            self.lowest = self.highest = value
        elif value < self.lowest:
            self.lowest = value
        elif value > self.highest:
            self.highest = value
        points.append(point)
        if len(points) > MANY and points[MANY // 2].hour < point.hour - KEPT_H:
            del points[: MANY // 2]

    def forget(self) -> None:
        """Begin again: a person saw the level, and later values are held against later ones."""
        self.points.clear()

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
        """Values of the newest one's epoch before the last `newest`, newest first, within the
        window of hours that ends with it, and at least `least_h` old. Epochs only ever grow."""
        points = self.points
        last = points[-1]
        low, high, epoch = last.hour - window_h, last.hour - least_h, last.epoch
        found = []
        for place in range(len(points) - newest - 1, -1, -1):
            point = points[place]
            if point.epoch != epoch or point.hour < low:
                break
            if point.hour <= high:
                found.append(point)
        return found


class Evidence(Struct, frozen=True):
    """Why a rule raises: the values, newest last, and what they were held against."""

    points: tuple[Point, ...]
    side: str
    against: float
    """The limit, or the level that a drift is measured from."""


def level_of(points: Sequence[Point]) -> float:
    """The median: one bad value does not move it."""
    return median([point.value for point in points])
