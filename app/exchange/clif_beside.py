"""What was charted elsewhere at about the same time: vital signs and the position."""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime
from decimal import Decimal
from typing import Final

from app.exchange.clif_rounds import ROUND
from app.exchange.clif_rows import Finding, Place

PRONE: Final = "prone"
"""The one position category that says how the body lay; the other one only denies it."""

Series = tuple[list[datetime], list[Decimal]]


class Beside:
    """One stay's vital signs and prone positions, found by time.

    A value joins a check if it was charted at most 15 minutes before or after; of several the
    nearest, of two equally near the earlier, of two at one time the first in the file. Zeros mean
    that nothing was read.
    """

    def __init__(self, vitals: Iterable[Finding], positions: Iterable[Place]) -> None:
        found: dict[str, dict[datetime, Decimal]] = defaultdict(dict)
        for vital in vitals:
            if vital.value:
                found[vital.category].setdefault(vital.at, vital.value)
        self._series: Mapping[str, Series] = {name: _series(at) for name, at in found.items()}
        lay = sorted((place.at, place.category.lower()) for place in positions)
        self._lay_at = [at for at, _ in lay]
        self._lay = [category for _, category in lay]

    def vital(self, category: str, at: datetime) -> Decimal | None:
        """The value of a vital sign that joins a check at this moment; None where none does."""
        times, values = self._series.get(category, ([], []))
        place = nearest(times, at)
        if place is None or abs(times[place] - at) > ROUND:
            return None
        return values[place]

    def prone(self, at: datetime) -> bool:
        """Whether the nearest position charted within 15 minutes is prone."""
        place = nearest(self._lay_at, at)
        if place is None or abs(self._lay_at[place] - at) > ROUND:
            return False
        return self._lay[place] == PRONE


def _series(found: Mapping[datetime, Decimal]) -> Series:
    times = sorted(found)
    return times, [found[at] for at in times]


def nearest(times: list[datetime], at: datetime) -> int | None:
    """The place of the time nearest to the moment, the earlier of two; None of an empty list."""
    if not times:
        return None
    after = bisect_left(times, at)
    around = [place for place in (after - 1, after) if 0 <= place < len(times)]
    return min(around, key=lambda place: abs(times[place] - at))


def by_stay(vitals: Iterable[Finding], positions: Iterable[Place]) -> Mapping[str, Beside]:
    """What was charted beside each stay's support."""
    vitals_of: dict[str, list[Finding]] = defaultdict(list)
    lay_of: dict[str, list[Place]] = defaultdict(list)
    for vital in vitals:
        vitals_of[vital.stay].append(vital)
    for place in positions:
        lay_of[place.stay].append(place)
    stays = {*vitals_of, *lay_of}
    return {stay: Beside(vitals_of[stay], lay_of[stay]) for stay in stays}


NOTHING: Final = Beside((), ())
"""For a stay with no such rows."""
