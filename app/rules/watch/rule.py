"""What a rule is: one sentence, the series it reads, how it raises and how it clears."""

import math
from typing import Protocol

from msgspec import Struct
from msgspec.structs import replace

from app.rules.figures import Figures
from app.rules.policy import Limit
from app.rules.watch.trail import Evidence, Trail


class Bounds(Struct, frozen=True):
    """The numbers of a rule as the policy in force gives them; no limit where it needs none."""

    figures: Figures
    limit: Limit | None = None
    calm_from: float = math.inf
    calm_to: float = -math.inf
    """Values from here to there lie inside, whatever came before: most rows end at this look."""

    @property
    def with_one_more(self) -> "Bounds":
        """The same numbers of a drift, but one value more must show it, and every one in full."""
        figures = self.figures
        full = figures.number_or("twice", figures.number_or("by", 0.0))
        numbers = {name: n for name, n in figures.numbers.items() if name != "once"}
        numbers |= {"count": figures["count"] + 1, "each": full}
        return replace(self, figures=replace(figures, numbers=numbers))


class Test(Protocol):
    """How a rule raises and how it clears: two tests, kept apart."""

    def raises(self, trail: Trail, bounds: Bounds, /) -> Evidence | None:
        """The evidence that the newest value completes; None where nothing is raised."""

    def returns(self, trail: Trail, bounds: Bounds, raised: Evidence, /) -> bool:
        """Whether a flag that cleared is there again, where `raises` does not see it."""

    def clears(self, trail: Trail, bounds: Bounds, raised: Evidence, /) -> bool:
        """Whether the newest values end an open flag."""

    def clearing(self, bounds: Bounds, /) -> str:
        """What would clear it, in words."""


class Rule(Struct, frozen=True):
    """One rule, whose numbers stand in the policy under `[rules.<key>]`.

    `limit` is the entry of `[limits]` that it confirms, empty for a drift. `restarts` names what a
    baseline stands on: when one of them changes, older values are no longer compared. `keeps` are
    those of them that leave an open flag's level as it is. `beside` is the rule whose series must
    not speak against it. A rule with `information` is told, not flagged; one that `ends_when_seen`
    ends at a person's word.
    """

    key: str
    group: str
    series: str
    sentence: str
    test: Test
    limit: str = ""
    restarts: tuple[str, ...] = ()
    keeps: tuple[str, ...] = ()
    beside: str = ""
    information: bool = False
    ends_when_seen: bool = False
    places: int = 0
    drift: bool = False
    """Whether it compares with an earlier level instead of a limit."""
