"""What a baseline stands on, and since when: a change of it restarts the baseline it disturbs.

PEEP, flow, inspiratory time and set rate count once they have moved by the policy's
`[rules.baseline]` numbers, in one step or by adding up; words count when they change. What nobody
knew before is no change when it becomes known.
"""

from app.rules.figures import Figures
from app.rules.watch.rule import Rule
from app.rules.watch.sighting import Sighting
from app.rules.watch.trail import Point


class Around:
    """Walks beside the fold; each change of something gets the next number."""

    def __init__(self) -> None:
        self._held: dict[str, float | str] = {}
        self._changed: dict[str, int] = {}
        self._number = 0
        self._epochs: dict[tuple[str, ...], int] = {}

    def see(self, sighting: Sighting, figures: Figures | None) -> None:
        """Take over what a row says of the things a baseline stands on."""
        held = self._held
        for name, value in sighting.around.items():
            before = held.get(name)
            if before == value:
                continue
            if before is None or _follows(name, before, value):
                held[name] = value
            elif _is_a_change(name, before, value, figures):
                held[name] = value
                self._number += 1
                self._changed[name] = self._number
                self._epochs.clear()

    def epoch(self, names: tuple[str, ...]) -> int:
        """The number of the last change among these; values of one number may be compared."""
        known = self._epochs.get(names)
        if known is None:
            known = max((self._changed.get(name, 0) for name in names), default=0)
            self._epochs[names] = known
        return known

    def other_ground(self, rule: Rule, raised: Point) -> bool:
        """Whether something changed since that makes an open flag's level meaningless."""
        hard = tuple(name for name in rule.restarts if name not in rule.keeps)
        return self.epoch(hard) > raised.epoch


def _follows(name: str, before: float | str, value: float | str) -> bool:
    """Whether the value held moves along without a restart."""
    if isinstance(before, str) or isinstance(value, str):
        return False
    return name in _RISES_ONLY and value < before


def _is_a_change(
    name: str, before: float | str, value: float | str, figures: Figures | None
) -> bool:
    if isinstance(before, str) or isinstance(value, str):
        return True
    least = figures.get(name) if figures is not None else None
    moved = value - before if name in _RISES_ONLY else abs(value - before)
    return least is None or moved >= least - 1e-9


_RISES_ONLY = frozenset({"set_rate"})
"""A set rate that is lowered takes no breath away from a patient who breathes faster."""
