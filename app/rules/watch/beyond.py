"""Rules of a limit: so many of the last values beyond it, or one far beyond; back inside to clear.

Numbers: `count` of the last `of` values; `at_once_by` past the limit for one value alone;
`clear_count` values in a row at least `clear_margin` inside. Over 15 means greater than 15 as
displayed (decision 16); a rule made `inclusive` says "15 or more".
"""

import math

from msgspec import Struct

from app.rules.watch.rule import Bounds
from app.rules.watch.trail import Evidence, Trail


class Beyond(Struct, frozen=True):
    """The side or sides of a limit that a rule watches."""

    sides: tuple[str, ...] = ("over",)
    inclusive: bool = False

    def end(self, side: str, bounds: Bounds) -> float | None:
        """The limit on a side: the policy's `[limits]` entry, else the rule's own `limit`."""
        if bounds.limit is not None:
            end = bounds.limit.over if side == "over" else bounds.limit.under
            return None if end is None else float(end)
        return bounds.figures.get("limit")

    def side_of(self, value: float, bounds: Bounds) -> str:
        """On which side the value lies beyond its limit; empty inside."""
        for side in self.sides:
            end = self.end(side, bounds)
            if end is None:
                continue
            past = value - end if side == "over" else end - value
            if past > _HAIR or (self.inclusive and past >= -_HAIR):
                return side
        return ""

    def calm(self, bounds: Bounds) -> tuple[float, float]:
        """Between which values nothing lies beyond; a hair of a margin where the limit counts."""
        margin = 2 * _HAIR if self.inclusive else 0.0
        under = self.end("under", bounds) if "under" in self.sides else None
        over = self.end("over", bounds) if "over" in self.sides else None
        return (
            -math.inf if under is None else under + margin,
            math.inf if over is None else over - margin,
        )

    def raises(self, trail: Trail, bounds: Bounds) -> Evidence | None:
        """The values that confirm the limit: enough of the last ones, or one far beyond it."""
        newest = trail.points[-1]
        side = self.side_of(newest.value, bounds)
        if not side:
            return None
        end = self.end(side, bounds) or 0.0
        figures = bounds.figures
        at_once = figures.get("at_once_by")
        if at_once is not None and abs(newest.value - end) > at_once + _HAIR:
            return Evidence((newest,), side, end)
        recent = trail.recent(figures.count("of"))
        outside = [point for point in recent if self.side_of(point.value, bounds) == side]
        if len(outside) < figures.count("count"):
            return None
        return Evidence(tuple(reversed(outside)), side, end)

    def returns(self, _trail: Trail, _bounds: Bounds, _raised: Evidence) -> bool:
        """A limit stays where it is: what returns is raised again."""
        return False

    def clears(self, trail: Trail, bounds: Bounds, raised: Evidence) -> bool:
        """So many values in a row at or inside the clearing value."""
        count = bounds.figures.count("clear_count")
        recent = trail.recent(count)
        return len(recent) == count and all(
            self._back(point.value, bounds, raised.side) for point in recent
        )

    def _back(self, value: float, bounds: Bounds, side: str) -> bool:
        end = self.end(side, bounds)
        if end is None:
            return True
        margin = bounds.figures.get("clear_margin") or 0.0
        inside = end - value if side == "over" else value - end
        if self.inclusive and margin == 0:
            return inside > _HAIR
        return inside >= margin - _HAIR

    def clearing(self, bounds: Bounds) -> str:
        """What would clear it, in words."""
        count = bounds.figures.count("clear_count")
        margin = bounds.figures.get("clear_margin") or 0.0
        rows = "one value" if count == 1 else f"{count} values in a row"
        back = f"at least {margin:g} inside the limit" if margin else "inside the limit"
        return f"{rows} {back}"


_HAIR = 1e-9
"""Displayed values are decimals; a float's last bit must not decide."""
