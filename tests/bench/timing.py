"""Time two things in turns, so that whatever else the machine does falls on both alike."""

import sys
from collections.abc import Callable
from statistics import median
from time import perf_counter

Act = Callable[[], object]


def timed(act: Act) -> float:
    """Seconds that one call took."""
    started = perf_counter()
    act()
    return perf_counter() - started


def in_turns(
    *acts: Act, rounds: int, each: int, before: Callable[[], object] = lambda: None
) -> list[float]:
    """The median of each act over `rounds` × `each` calls; in every round all have their turn.

    `before` runs untimed before each call of an act.
    """
    times: list[list[float]] = [[] for _ in acts]
    for _ in range(rounds):
        for act, kept in zip(acts, times, strict=True):
            for _ in range(each):
                before()
                kept.append(timed(act))
    return [median(kept) for kept in times]


def say(words: str) -> None:
    """Tell what is being measured now, on standard error so that the table stays alone."""
    print(words, file=sys.stderr, flush=True)  # noqa: T201


class Progress:
    """A line that fills up while something long runs."""

    WIDTH = 40

    def __init__(self, what: str, steps: int) -> None:
        self._what, self._steps, self._done = what, steps, 0

    def step(self) -> None:
        """One more is done."""
        self._done += 1
        filled = self.WIDTH * self._done // self._steps
        end = "\n" if self._done == self._steps else ""
        bar = "█" * filled + "░" * (self.WIDTH - filled)
        sys.stderr.write(f"\r{self._what} {bar} {self._done}/{self._steps}{end}")
        sys.stderr.flush()
