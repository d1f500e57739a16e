"""A patient's own ranges as the rules take them: each from the moment it was written down.

What somebody ordered holds for the values observed from then on until it ends, another takes its
place, or the course is over. Each value is judged by what held at its own moment (decision 13), so
that a range that ends at a date changes nothing by time alone.
"""

from collections.abc import Iterator
from datetime import datetime
from functools import lru_cache

from app.charting.facts import CourseFacts, OwnRange
from app.rules.watch.policies import Override, Policies


def overrides_of(ranges: tuple[OwnRange, ...]) -> tuple[Override, ...]:
    """The ranges, in the order of writing, as overrides; one that only ended another is none."""
    return tuple(_overrides(ranges))


def _overrides(ranges: tuple[OwnRange, ...]) -> Iterator[Override]:
    for place, own in enumerate(ranges):
        if own.ends:
            continue
        later = [each.from_at for each in ranges[place + 1 :] if each.limit == own.limit]
        ends = [at for at in (own.until, *later[:1]) if at is not None]
        yield Override(
            own.limit,
            own.under,
            own.over,
            own.from_at,
            own.why,
            own.ordered_by,
            min(ends, default=None),
        )


def in_force(ranges: tuple[OwnRange, ...], at: datetime) -> tuple[OwnRange, ...]:
    """The ranges that hold at a moment, by limit in the order of writing."""
    newest = {own.limit: own for own in ranges if own.from_at <= at}
    return tuple(
        own for own in newest.values() if not own.ends and (own.until is None or at < own.until)
    )


def own_policies(policies: Policies, facts: CourseFacts) -> Policies:
    """The policies with this patient's own ranges; the very same ones where there are none."""
    overrides = overrides_of(facts.own_ranges)
    return _with(policies, overrides) if overrides else policies


@lru_cache(maxsize=256)
def _with(policies: Policies, overrides: tuple[Override, ...]) -> Policies:
    """The same object each time: a kept fold goes on under it only then."""
    return policies.with_overrides(overrides)
