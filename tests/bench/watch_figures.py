"""From the flags of a course to the figures that a rule set is judged by, with their intervals."""

import math
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta
from statistics import NormalDist, mean, stdev

from msgspec import Struct

Span = tuple[datetime, datetime | None]
Z95 = NormalDist().inv_cdf(0.975)
SHIFT_H = 12


class Raise(Struct, frozen=True):
    """One flag as a bench sees it, whichever rule set raised it."""

    group: str
    raised_at: datetime
    cleared_at: datetime | None


def merged(flags: Iterable[Raise], *, apart: str = "safety") -> dict[str, list[Span]]:
    """Spans in which a cause group has an open flag; flags that overlap or touch are one line."""
    spans: dict[str, list[Span]] = {}
    for flag in sorted(flags, key=lambda flag: flag.raised_at):
        if flag.group == apart:
            continue
        lines = spans.setdefault(flag.group, [])
        if lines and (lines[-1][1] is None or flag.raised_at <= lines[-1][1]):
            lines[-1] = (lines[-1][0], _later(lines[-1][1], flag.cleared_at))
        else:
            lines.append((flag.raised_at, flag.cleared_at))
    return spans


def _later(one: datetime | None, other: datetime | None) -> datetime | None:
    return None if one is None or other is None else max(one, other)


def open_at(spans: dict[str, list[Span]], moment: datetime) -> int:
    """How many cause groups have an open line at a moment."""
    return sum(
        any(start <= moment and (end is None or end > moment) for start, end in lines)
        for lines in spans.values()
    )


def handoffs(start: datetime, days: int) -> list[datetime]:
    """Two a day, the first one shift after the start."""
    return [start + timedelta(hours=SHIFT_H * n) for n in range(1, 2 * days + 1)]


def mean_interval(values: Sequence[float]) -> tuple[float, float, float]:
    """Mean and its normal 95 % interval over independent courses."""
    middle = mean(values)
    half = Z95 * stdev(values) / math.sqrt(len(values)) if len(values) > 1 else math.inf
    return middle, middle - half, middle + half


def share_interval(found: int, of: int) -> tuple[float, float, float]:
    """Share and its Wilson 95 % interval (Wilson, J Am Stat Assoc 1927)."""
    share, z2 = found / of, Z95 * Z95
    middle = (share + z2 / (2 * of)) / (1 + z2 / of)
    half = Z95 * math.sqrt(share * (1 - share) / of + z2 / (4 * of * of)) / (1 + z2 / of)
    return share, middle - half, middle + half


def median_interval(values: Sequence[float]) -> tuple[float, float, float]:
    """Median and its 95 % interval by order statistics (binomial, normal approximation)."""
    ordered, count = sorted(values), len(values)
    middle = (ordered[(count - 1) // 2] + ordered[count // 2]) / 2
    half = Z95 * math.sqrt(count) / 2
    low = max(0, math.floor(count / 2 - half) - 1)
    high = min(count - 1, math.ceil(count / 2 + half))
    return middle, ordered[low], ordered[high]
