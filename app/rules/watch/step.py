"""Rules of a change against the patient's own level of the hours before.

A change is a difference, or the logarithm of a ratio, where falls and rises count alike. The level
is the median of the values of `window_h` hours that still may be compared, at least `least` of
them. Open flags keep the level they were raised from: age never clears (decision 33).
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from msgspec import Struct

from app.rules.watch.rule import Bounds
from app.rules.watch.trail import Evidence, Point, Trail, level_of

DAYS = 3
SCATTER_LEAST = 6
"""Values from which a patient's own scatter can be told."""

_ROBUST_SD = 1.4826 / math.sqrt(2)
_HAIR = 1e-9


class Change(Struct, frozen=True):
    """Which way a series must go to be told, and whether it is measured as a ratio."""

    rising: bool
    ratio: bool = False

    def of(self, value: float, level: float) -> float:
        """How far a value lies from the level in the watched direction; negative on the other."""
        away = math.log(value / level) if self.ratio else value - level
        return away if self.rising else -away

    def out_of_reach(self, trail: Trail, by: float) -> bool:
        """Whether no level of this epoch can lie so far from the newest value: most rows end here,
        before any median is worked out."""
        best = trail.lowest if self.rising else trail.highest
        return self.of(trail.points[-1].value, best) < by - _HAIR

    @property
    def side(self) -> str:
        """The word for the watched direction."""
        return "over" if self.rising else "under"


class Step(Struct, frozen=True):
    """A step: `twice` in a row against the level, or `once` by far more.

    Where the policy gives `each`, the mean of the values must have moved by `twice` and every one
    of them by `each`: noise halves in a mean, and one bad value alone still proves nothing.
    """

    change: Change

    def raises(self, trail: Trail, bounds: Bounds) -> Evidence | None:
        """The two values, or the one, that lie so far from the level."""
        figures = bounds.figures
        once, twice = figures.get("once"), figures["twice"]
        each = figures.number_or("each", twice)
        if self.change.out_of_reach(trail, each if once is None else min(once, each)):
            return None
        if once is not None:
            found = self._against(trail, bounds, 1, once, once)
            if found is not None:
                return found
        return self._against(trail, bounds, figures.count("count"), twice, each)

    def _against(
        self, trail: Trail, bounds: Bounds, count: int, by: float, each: float
    ) -> Evidence | None:
        recent = trail.recent(count)
        if len(recent) < count:
            return None
        before = trail.before(count, bounds.figures["window_h"])
        if len(before) < bounds.figures.count("least") or recent[-1].epoch != recent[0].epoch:
            return None
        level = level_of(before)
        if not far_from(self.change, recent, level, by, each):
            return None
        wider = widened(self.change, before, bounds, bounds.figures["twice"])
        if wider > 1 and not far_from(self.change, recent, level, by * wider, each * wider):
            return None
        return Evidence(tuple(reversed(recent)), self.change.side, level)

    def returns(self, trail: Trail, bounds: Bounds, raised: Evidence) -> bool:
        """Whether the newest values lie as far from the level it was raised from as they did."""
        figures = bounds.figures
        twice = figures["twice"]
        each = figures.number_or("each", twice)
        return back_again(self.change, trail, bounds, raised, twice, each)

    def clears(self, trail: Trail, bounds: Bounds, raised: Evidence) -> bool:
        """`clear_count` values in a row nearer to the old level than `clear`."""
        return back_by(self.change, trail, bounds, raised)

    def clearing(self, bounds: Bounds) -> str:
        """What would clear it, in words."""
        return clearing_words(self.change, bounds)


class Fall(Struct, frozen=True):
    """A slow change: the last values' median against that of values `from_h` to `window_h` old."""

    change: Change

    def raises(self, trail: Trail, bounds: Bounds) -> Evidence | None:
        """The newest values, where their median lies so far from that of the day before."""
        figures = bounds.figures
        count = figures.count("count")
        recent = trail.recent(count)
        if len(recent) == count == 2 and self._both_near(trail, figures["by"]):
            return None
        before = trail.before(count, figures["window_h"], figures["from_h"])
        if len(recent) < count or len(before) < figures.count("least"):
            return None
        level = level_of(before)
        by = figures["by"] * widened(self.change, before, bounds, figures["by"])
        if self.change.of(level_of(recent), level) < by - _HAIR:
            return None
        each = figures.get("each")
        if each is not None and not far_from(self.change, recent, level, each, each):
            return None
        return Evidence(tuple(reversed(recent)), self.change.side, level)

    def _both_near(self, trail: Trail, by: float) -> bool:
        """Whether the mean of the last two cannot lie so far from any level of this epoch."""
        best = trail.lowest if self.change.rising else trail.highest
        pair = (trail.points[-1].value + trail.points[-2].value) / 2
        return self.change.of(pair, best) < by - _HAIR

    def returns(self, trail: Trail, bounds: Bounds, raised: Evidence) -> bool:
        """As for a step."""
        by = bounds.figures["by"]
        return back_again(self.change, trail, bounds, raised, by, by)

    def clears(self, trail: Trail, bounds: Bounds, raised: Evidence) -> bool:
        """As for a step."""
        return back_by(self.change, trail, bounds, raised)

    def clearing(self, bounds: Bounds) -> str:
        """What would clear it, in words."""
        return clearing_words(self.change, bounds)


class Slide(Struct, frozen=True):
    """A slide too slow for a step: against the best of the last three days, day by day."""

    change: Change

    def raises(self, trail: Trail, bounds: Bounds) -> Evidence | None:
        """The newest values, each so far from the best day's median."""
        figures = bounds.figures
        if self.change.out_of_reach(trail, figures["by"]):
            return None
        count = figures.count("count")
        recent = trail.recent(count)
        if len(recent) < count:
            return None
        days = trail.before(count, DAYS * 24.0)
        best = self._best_day(days, trail.points[-1], figures.count("least"))
        if best is None:
            return None
        if not far_from(self.change, recent, best, figures["by"], figures["by"]):
            return None
        by = figures["by"] * widened(self.change, days, bounds, figures["by"])
        if not far_from(self.change, recent, best, by, by):
            return None
        return Evidence(tuple(reversed(recent)), self.change.side, best)

    def returns(self, trail: Trail, bounds: Bounds, raised: Evidence) -> bool:
        """As for a step."""
        by = bounds.figures["by"]
        return back_again(self.change, trail, bounds, raised, by, by)

    def _best_day(self, points: Sequence[Point], newest: Point, least: int) -> float | None:
        """The best median of the days back from the newest value that have enough values."""
        days: dict[int, list[Point]] = {}
        for point in points:
            days.setdefault(int((newest.hour - point.hour) // 24), []).append(point)
        levels = [level_of(day) for day in days.values() if len(day) >= least]
        if not levels:
            return None
        return min(levels) if self.change.rising else max(levels)

    def clears(self, trail: Trail, bounds: Bounds, raised: Evidence) -> bool:
        """Back by half, so many in a row; a person's word ends it too (see the fold)."""
        return back_by(self.change, trail, bounds, raised)

    def clearing(self, bounds: Bounds) -> str:
        """What would clear it, in words."""
        return clearing_words(self.change, bounds) + ", or somebody says that it was seen"


def widened(change: Change, points: Sequence[Point], bounds: Bounds, by: float) -> float:
    """By how much a change must be larger where this patient's own values scatter more.

    `own_noise` times their scatter, as a share of the change asked for, and never under 1. The
    scatter is 1.4826 · median of |successive differences| / √2, the robust standard deviation of
    one value around a slow level (textbook, from memory); with too few values it is not known.
    """
    times = bounds.figures.number_or("own_noise", 0.0)
    if not times or len(points) < SCATTER_LEAST:
        return 1.0
    apart = [abs(change.of(one.value, two.value)) for one, two in pairwise(points)]
    return max(1.0, times * _ROBUST_SD * median(apart) / by)


def far_from(change: Change, points: Sequence[Point], level: float, by: float, each: float) -> bool:
    """Whether values lie on average `by` from a level, and every one of them at least `each`."""
    moved = [change.of(point.value, level) for point in points]
    return min(moved) >= each - _HAIR and sum(moved) >= len(moved) * by - _HAIR


def back_again(
    change: Change, trail: Trail, bounds: Bounds, raised: Evidence, by: float, each: float
) -> bool:
    """Whether the newest `count` values lie again so far from the level a flag was raised from.

    Held against the level then, not the median by now: that has the flagged values in it.
    """
    count = bounds.figures.count("count")
    recent = trail.recent(count)
    return len(recent) == count and far_from(change, recent, raised.against, by, each)


def back_by(change: Change, trail: Trail, bounds: Bounds, raised: Evidence) -> bool:
    """Whether the last values all lie nearer than `clear` to the level the flag was raised from."""
    count = bounds.figures.count("clear_count")
    recent = trail.recent(count)
    near = bounds.figures["clear"]
    return len(recent) == count and all(
        change.of(point.value, raised.against) < near + _HAIR for point in recent
    )


def clearing_words(change: Change, bounds: Bounds) -> str:
    """ "2 values in a row within 12 % of the level before"."""
    count, near = bounds.figures.count("clear_count"), bounds.figures["clear"]
    share = math.exp(near) - 1 if change.rising else 1 - math.exp(-near)
    within = f"{100 * share:.0f} %" if change.ratio else f"{near:g}"
    return f"{count} values in a row within {within} of the level before"
