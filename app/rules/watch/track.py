"""One rule on its way through a course: the values of its series, and its flags so far."""

import math
from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta

from msgspec import Struct, field

from app.rules.watch.rule import Bounds, Rule
from app.rules.watch.trail import Evidence, Trail, level_of

REOPENS_H = 12.0
REOPENS_ROWS = 2
"""A cleared flag that returns within 12 h or two assessments is the same flag, with its age."""


class Raised(Struct):
    """What happened to one flag so far; `cleared_row` counts the full checks until it cleared."""

    evidence: Evidence
    bounds: Bounds
    policy_version: int
    raised_at: datetime
    cleared_at: datetime | None = None
    cleared_row: int = 0
    reopened_at: list[datetime] = field(default_factory=list)
    ended_by: str = ""

    def may_reopen(self, at: datetime, row: int) -> bool:
        """Whether a new raise at this moment and row is the same flag again."""
        if self.cleared_at is None or self.ended_by:
            return False
        soon = at - self.cleared_at <= timedelta(hours=REOPENS_H)
        return soon or row - self.cleared_row <= REOPENS_ROWS

    def clear(self, at: datetime, row: int, ended_by: str = "") -> None:
        """It no longer stands; `ended_by` where no value cleared it."""
        self.cleared_at, self.cleared_row, self.ended_by = at, row, ended_by


def speaks_against(beside: Trail | None, bounds: Bounds) -> bool:
    """Whether the series beside has stayed where it was, so that a fall is more likely misread.

    Its last two values' median must have fallen by `beside_by` (a logarithm) against its median of
    `beside_h` hours; with too few values to say, it says nothing against.
    """
    least = bounds.figures.number_or("beside_by", 0.0)
    if beside is None or least == 0 or not beside.points:
        return False
    now = beside.recent(2)
    before = beside.before(2, bounds.figures["beside_h"])
    if len(now) < 2 or len(before) < 3:
        return False
    return math.log(level_of(before) / level_of(now)) < least


class Track(Struct):
    """The rule's flags, and the values it reads: rules of one series and baseline share them."""

    rule: Rule
    trail: Trail
    flags: list[Raised] = field(default_factory=list)

    @property
    def standing(self) -> Raised | None:
        """The flag that is open; None where none is."""
        flag = self.flags[-1] if self.flags else None
        return flag if flag is not None and flag.cleared_at is None else None

    def look(
        self,
        bounds: Bounds,
        row: int,
        version: int,
        *,
        other_ground: bool = False,
        beside: Trail | None = None,
    ) -> None:
        """Judge the newest value: an open flag may clear, a new one may be raised or re-open."""
        at = self.trail.points[-1].at
        flag = self.standing
        if flag is None:
            self._raise(at, bounds, row, version, beside)
        elif other_ground:
            flag.clear(at, row, "what it was compared with no longer holds")
        elif self.rule.test.clears(self.trail, bounds, flag.evidence):
            flag.clear(at, row)

    def _raise(
        self, at: datetime, bounds: Bounds, row: int, version: int, beside: Trail | None
    ) -> None:
        last = self.flags[-1] if self.flags else None
        again = last if last is not None and last.may_reopen(at, row) else None
        evidence = self._evidence(bounds, beside)
        if again is not None and (evidence or self._is_back(bounds, again, beside)):
            again.cleared_at = None
            again.reopened_at.append(at)
        elif evidence is not None:
            self.flags.append(Raised(evidence, bounds, version, at))

    def _evidence(self, bounds: Bounds, beside: Trail | None) -> Evidence | None:
        """What the newest value completes. Where the series beside speaks against it, one value
        more than `count` must show the same, and none is believed alone."""
        test = self.rule.test
        evidence = test.raises(self.trail, bounds)
        if evidence is None or not speaks_against(beside, bounds):
            return evidence
        return test.raises(self.trail, bounds.with_one_more)

    def _is_back(self, bounds: Bounds, flag: Raised, beside: Trail | None) -> bool:
        same = self.trail.points[-1].epoch == flag.evidence.points[-1].epoch
        back = same and self.rule.test.returns(self.trail, bounds, flag.evidence)
        return back and not speaks_against(beside, bounds)


class Lane(Struct, frozen=True):
    """One trail and the rules that read it."""

    trail: Trail
    restarts: tuple[str, ...]
    tracks: tuple[Track, ...]

    @property
    def group(self) -> str:
        """The cause group; rules that share a baseline share it."""
        return self.tracks[0].rule.group


def lanes_of(rules: Iterable[Rule]) -> Mapping[str, tuple[Lane, ...]]:
    """New tracks for the rules, by series: one lane for each kind of baseline."""
    together: dict[tuple[str, tuple[str, ...]], list[Rule]] = {}
    for rule in rules:
        together.setdefault((rule.series, rule.restarts), []).append(rule)
    lanes: dict[str, tuple[Lane, ...]] = {}
    for (series, restarts), found in together.items():
        trail = Trail()
        lane = Lane(trail, restarts, tuple(Track(rule, trail) for rule in found))
        lanes[series] = (*lanes.get(series, ()), lane)
    return lanes
