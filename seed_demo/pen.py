"""From truth to chart: a hand that rounds, likes even digits, and reads a needle that shakes.

Noise of one reading follows what open ICU charts show: about 0.7 to 1.5 cmH2O on a plateau, a few
percent on an expired volume. Here the quiet end is used, so that twelve beds can each show one
thing; shares are engineering judgement.
"""

from random import Random

PRESSURE_SD = 0.6
VOLUME_SHARE = 0.03
RATE_SD = 0.8
EVEN = 0.30
"""Share of odd last digits that become an even one."""


class Pen:
    """One bed's charting hand; everything it writes is text as somebody would type it."""

    def __init__(self, rng: Random) -> None:
        self._rng = rng

    def happens(self, share: float) -> bool:
        """Whether something that happens in this share of cases happens now."""
        return self._rng.random() < share

    def between(self, low: float, high: float) -> float:
        """Any number between two."""
        return self._rng.uniform(low, high)

    def reading(
        self, value: float, spread: float, *, low: int | None = None, high: int | None = None
    ) -> int:
        """A whole number read with that spread, with a liking for even ones, kept inside bounds."""
        read = round(self._rng.gauss(value, spread))
        if read % 2 and self.happens(EVEN):
            read += self._rng.choice((-1, 1))
        read = read if low is None else max(low, read)
        return read if high is None else min(high, read)

    def tenths(self, value: float, spread: float) -> str:
        """A number read to one decimal."""
        return f"{self._rng.gauss(value, spread):.1f}"
