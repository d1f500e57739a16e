"""What the rules have to say of a course at a moment: flags, values outside once, what cannot be
judged, and what is told as information. Derived each time, never stored."""

from datetime import datetime, timedelta
from enum import StrEnum

from msgspec import Struct

LEVEL_AFTER = timedelta(hours=24)
"""How long a flagged drift must last to be spoken of as a new level (decision 33)."""


class Value(Struct, frozen=True):
    """One value of a series at its time, as displayed."""

    at: datetime
    shown: str


class Flag(Struct, frozen=True):
    """A limit confirmed or a drift found, and all that explains it.

    `values` raised it, oldest first. `against` is the limit, or the level before for a drift.
    `reopened_at` are the times at which it came back soon after it had cleared: same flag, same
    age. `ended_by` says why it is over where no value cleared it.
    """

    group: str
    rule: str
    series: str
    raised_at: datetime
    cleared_at: datetime | None
    values: tuple[Value, ...]
    side: str
    against: str
    drift: bool
    sentence: str
    source: str
    would_clear: str
    policy_version: int
    reopened_at: tuple[datetime, ...] = ()
    ended_by: str = ""
    information: bool = False

    @property
    def open(self) -> bool:
        """Whether it still stands."""
        return self.cleared_at is None

    def new_level_since(self, now: datetime) -> datetime | None:
        """For a drift that has lasted a day: since when the new level holds (decision 33)."""
        if self.open and self.drift and now - self.raised_at >= LEVEL_AFTER:
            return self.values[0].at
        return None


class Once(Struct, frozen=True):
    """One valid value beyond a limit: to be read again, not a flag (decision 26)."""

    group: str
    rule: str
    series: str
    value: Value
    side: str
    limit: str
    source: str
    read_again_at: datetime


class Unjudged(StrEnum):
    """Why a limit cannot be judged (decision 28); never the same as within limits."""

    NOT_APPLICABLE = "not_applicable"
    NOT_DONE = "not_done"
    TOO_OLD = "too_old"


class NotEvaluable(Struct, frozen=True):
    """A limit that cannot be judged now, why, and the last value there was."""

    group: str
    rule: str
    series: str
    kind: Unjudged
    reason: str
    at: datetime | None
    last: Value | None


class Watched(Struct, frozen=True):
    """Everything the rules say of one course at one moment."""

    flags: tuple[Flag, ...]
    once: tuple[Once, ...]
    not_evaluable: tuple[NotEvaluable, ...]
    information: tuple[Flag, ...]

    @property
    def open_by_group(self) -> dict[str, tuple[Flag, ...]]:
        """Open flags joined by cause: one line each, the safety group among them, oldest first."""
        groups: dict[str, list[Flag]] = {}
        for flag in self.flags:
            if flag.open:
                groups.setdefault(flag.group, []).append(flag)
        return {group: tuple(flags) for group, flags in groups.items()}


class Answered(Struct, frozen=True):
    """A person's word on the open flags of one cause group; the only thing about flags that is
    stored. `rules` are those whose flags the person saw: one that a late row raises is not meant;
    without any, all of the group are.
    """

    group: str
    at: datetime
    rules: tuple[str, ...] = ()

    def meant(self, group: str, rule: str) -> bool:
        """Whether a rule's flag was among those that the person spoke of."""
        return group == self.group and (not self.rules or rule in self.rules)
