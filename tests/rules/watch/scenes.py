"""Courses for the tests of the rules, told as a run of values of one series."""

from datetime import datetime
from decimal import Decimal

from app.charting.facts import Assessment, CourseFacts, Targets
from app.rules.policy import Policy, starting_policy
from app.rules.watch import Flag, Watched, watch
from tests.charting.rows import course, later, row

POLICY: Policy = starting_policy()

SETTINGS = {
    "fio2_set": "40",
    "peep_set": "10",
    "tidal_volume_set": "400",
    "resp_rate_set": "20",
    "flow_rate_set": "60",
    "flow_pattern": "constant",
}
MEASURED = {
    "resp_rate_obs": "20",
    "tidal_volume_obs": "400",
    "peak_inspiratory_pressure_obs": "32",
    "plateau_pressure_obs": "22",
    "hold_passive": "yes",
    "spo2": "93",
}


def check(hours: float, **values: object) -> Assessment:
    """A full check so many hours after the first; a value of None is left out."""
    typed = {**SETTINGS, **MEASURED, **values}
    told = {code: value for code, value in typed.items() if value is not None}
    family = str(told.pop("mode_family", "ac_vc"))
    return row(family, at=later(hours=hours), **told)


def run(code: str, *values: object, every_h: float = 4) -> list[Assessment]:
    """One check after the other, the same but for one field."""
    return [check(every_h * n, **{code: value}) for n, value in enumerate(values)]


def with_band(facts: CourseFacts, low: str | None = "88", high: str | None = "95") -> CourseFacts:
    from msgspec.structs import replace

    ends = [None if end is None else Decimal(end) for end in (low, high)]
    return replace(facts, targets=Targets(*ends, ordered_by="Dr Oak", ordered_at=later(hours=-5)))


def watched(*rows: Assessment, now: datetime | None = None, band: str | None = "88") -> Watched:
    """What the shipped rules say right after the last row, or at another moment."""
    at = now or max(r.observed_at for r in rows)
    return watch(with_band(course(*rows), band), POLICY, at)


def flag(rule: str, seen: Watched) -> Flag | None:
    """The newest flag of a rule; None where it raised none."""
    return next((f for f in reversed(seen.flags) if f.rule == rule), None)


def rules(seen: Watched) -> set[str]:
    """The rules with an open flag."""
    return {f.rule for f in seen.flags if f.open}
