"""The unit's policy: limits, rounds, noise and stale bands with their sources, from TOML."""

import tomllib
from collections.abc import Mapping
from datetime import time
from decimal import Decimal, InvalidOperation
from typing import Any

from msgspec import Struct, field

from app.rules.episode_figures import EpisodeFigures, read_episodes
from app.rules.figures import STARTING_POLICY_FILE, Figures, read_rules
from app.rules.policy_error import PolicyError

__all__ = [
    "GROUPS",
    "STARTING_POLICY_FILE",
    "Cylinders",
    "Limit",
    "Policy",
    "PolicyError",
    "Rounds",
    "read_policy",
    "starting_policy",
]

GROUPS = (
    "mechanics",
    "airway",
    "volume",
    "leak",
    "oxygenation",
    "drive",
    "acid-base",
    "safety",
)
"""The causes that limits and rules are grouped by; one line per cause."""


class Limit(Struct, frozen=True):
    """The range this unit set for one field or index; an open end is None. Tested as displayed.

    `group` is the cause it belongs to; `essential` says that a bed without it counts as not
    evaluable; `stale_h` hours after its last value it can no longer be judged. `of_patient` is a
    band ordered for each patient: it has no ends of its own.
    """

    key: str
    under: Decimal | None
    over: Decimal | None
    source: str
    group: str = "safety"
    essential: bool = False
    stale_h: Decimal = Decimal(6)
    of_patient: bool = False
    ordered_by: str = ""
    """Who ordered this range for one patient; empty where it is the unit's."""

    def __post_init__(self) -> None:
        if self.under is None and self.over is None and not self.of_patient:
            raise PolicyError(f"limits.{self.key}", "needs `over`, `under` or both")
        if self.under is not None and self.over is not None and self.under >= self.over:
            raise PolicyError(f"limits.{self.key}", "`under` must be smaller than `over`")

    def beyond(self, displayed: Decimal) -> str:
        """ "over", "under" or "": decision 16, over 15 means greater than 15 as displayed."""
        if self.over is not None and displayed > self.over:
            return "over"
        return "under" if self.under is not None and displayed < self.under else ""


class Rounds(Struct, frozen=True):
    """When this unit assesses, in its own clock time, and when a round is late (decision 30)."""

    times: tuple[time, ...]
    late_after_min: int
    overdue_after_min: int


class Cylinders(Struct, frozen=True):
    """The unit's list of cylinder letters (decision 19): litres for each psi, what is kept back.

    Empty where a policy names none, since letters mean other contents in other countries.
    """

    factors: Mapping[str, Decimal] = field(default_factory=dict)
    reserve_psi: Decimal = Decimal(0)
    source: str = ""


class Policy(Struct, frozen=True):
    """One version of a unit's policy; version 0 is the starting policy, saved by nobody yet."""

    version: int
    title: str
    reason: str
    adult_age_y: int
    barometric_mmhg: Decimal
    rounds: Rounds
    limits: Mapping[str, Limit]
    stale_h: Mapping[str, Decimal]
    noise: Mapping[str, Decimal]
    cylinders: Cylinders = field(default_factory=Cylinders)
    rules: Mapping[str, Figures] = field(default_factory=dict)
    ventilator_gap_days: int = 1
    """Whole calendar days off invasive support that begin the ventilator days anew."""
    fresh_tracheostomy_days: int = 7
    episodes: EpisodeFigures = field(default_factory=lambda: read_episodes({}))

    @property
    def words(self) -> str:
        """How a page names the policy that judged it."""
        return f"{self.title}, version {self.version}"


def read_policy(text: str, version: int = 0) -> Policy:
    """Read a policy from its TOML text; raises PolicyError naming the entry that is wrong."""
    try:
        tree = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise PolicyError("file", str(error)) from error
    patients, site = _table(tree, "patients"), _table(tree, "site")
    return Policy(
        version=version,
        title=str(tree.get("title", "Policy")),
        reason=str(tree.get("reason", "")),
        adult_age_y=_adult_age(patients),
        barometric_mmhg=_number(site, "site", "barometric_mmhg"),
        rounds=_rounds(_table(tree, "rounds")),
        limits={key: _limit(key, entry) for key, entry in _table(tree, "limits").items()},
        stale_h=_figures(tree, "stale_h"),
        noise=_figures(tree, "noise"),
        cylinders=_cylinders(tree),
        rules=read_rules(tree),
        ventilator_gap_days=_days(tree, "ventilator_gap_days", 1),
        fresh_tracheostomy_days=_days(tree, "fresh_tracheostomy_days", 7),
        episodes=read_episodes(tree),
    )


def starting_policy() -> Policy:
    """The policy that ships with the program."""
    return read_policy(STARTING_POLICY_FILE.read_text(encoding="utf-8"))


def _table(tree: Mapping[str, Any], name: str) -> Mapping[str, Any]:
    table = tree.get(name)
    if not isinstance(table, dict):
        raise PolicyError(name, "this table is missing")
    return table


def _number(table: Mapping[str, Any], where: str, name: str) -> Decimal:
    value = table.get(name)
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise PolicyError(f"{where}.{name}", "must be a number")
    try:
        number = Decimal(value)
    except InvalidOperation as error:
        raise PolicyError(f"{where}.{name}", "must be a number") from error
    if not number.is_finite():
        raise PolicyError(f"{where}.{name}", "must be a finite number")
    return number


def _figures(tree: Mapping[str, Any], name: str) -> dict[str, Decimal]:
    table = _table(tree, name)
    return {key: _number(table, name, key) for key in table if key != "source"}


def _cylinders(tree: Mapping[str, Any]) -> Cylinders:
    if "cylinders" not in tree:
        return Cylinders()
    table = _table(tree, "cylinders")
    figures = _figures(tree, "cylinders")
    reserve = figures.pop("reserve_psi", None)
    if reserve is None or reserve < 0 or any(factor <= 0 for factor in figures.values()):
        raise PolicyError("cylinders", "needs `reserve_psi` and factors above zero")
    if not str(table.get("source", "")).strip():
        raise PolicyError("cylinders.source", "says where the factors come from; it is missing")
    return Cylinders(figures, reserve, str(table["source"]))


def _days(tree: Mapping[str, Any], name: str, otherwise: int) -> int:
    """A whole number of days under `[course]`; a policy from before that table has the shipped."""
    if name not in tree.get("course", {}):
        return otherwise
    days = _number(_table(tree, "course"), "course", name)
    if days < 1 or days != int(days):
        raise PolicyError(f"course.{name}", "must be a whole number of days, at least 1")
    return int(days)


def _adult_age(patients: Mapping[str, Any]) -> int:
    age = int(_number(patients, "patients", "adult_age_y"))
    if age < 16:
        raise PolicyError("patients.adult_age_y", "must be at least 16 (decision 1)")
    return age


def _rounds(table: Mapping[str, Any]) -> Rounds:
    try:
        times = tuple(sorted(time.fromisoformat(entry) for entry in table["times"]))
    except (KeyError, TypeError, ValueError) as error:
        raise PolicyError("rounds.times", 'must be clock times such as "03:30"') from error
    if not times:
        raise PolicyError("rounds.times", "needs at least one time")
    late = int(_number(table, "rounds", "late_after_min"))
    overdue = int(_number(table, "rounds", "overdue_after_min"))
    if not 0 <= late <= overdue:
        raise PolicyError("rounds.overdue_after_min", "must not come before late_after_min")
    return Rounds(times, late, overdue)


def _limit(key: str, entry: object) -> Limit:
    where = f"limits.{key}"
    if not isinstance(entry, dict):
        raise PolicyError(where, "must be a table with `over`, `under` and `source`")
    ends = {end: _number(entry, where, end) if end in entry else None for end in ("under", "over")}
    source = entry.get("source")
    if not isinstance(source, str) or not source.strip():
        raise PolicyError(f"{where}.source", "says where the limit comes from; it is missing")
    group = entry.get("group")
    if group not in GROUPS:
        raise PolicyError(f"{where}.group", f"must be one of {', '.join(GROUPS)}")
    return Limit(
        key,
        ends["under"],
        ends["over"],
        source,
        group=str(group),
        essential=entry.get("essential") is True,
        stale_h=_number(entry, where, "stale_h"),
        of_patient=entry.get("band") == "patient",
    )
