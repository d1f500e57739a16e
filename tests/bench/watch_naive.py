"""Two naive rule sets to stand beside: any value outside is a flag; any jump from the last one."""

import math
from collections.abc import Iterable, Iterator
from datetime import datetime

from app.rules.policy import Policy
from app.rules.watch import Sighting
from app.rules.watch.beyond import Beyond
from app.rules.watch.rules import RULES
from app.rules.watch.words import bounds_of
from tests.bench.watch_figures import Raise

JUMPS = {
    "compliance": ("mechanics", -1, 0.25),
    "compliance_dynamic": ("mechanics", -1, 0.25),
    "resistance": ("airway", 1, 0.0),
    "rate": ("drive", 1, 0.0),
    "fio2": ("oxygenation", 1, 0.0),
}
"""Series to group, direction, and the log ratio; zero uses the step below."""

STEPS = {"resistance": 6.0, "rate": 6.0, "fio2": 15.0}


def any_value_outside(rows: Iterable[Sighting], policy: Policy) -> list[Raise]:
    """Each run of values beyond a limit is a flag from its first value to the first inside."""
    open_since: dict[str, datetime] = {}
    found: list[Raise] = []
    for row in rows:
        for key, group, outside in _verdicts(row, policy):
            if outside:
                open_since.setdefault(key, row.at)
            elif key in open_since:
                found.append(Raise(group, open_since.pop(key), row.at))
    groups = {rule.key: rule.group for rule in RULES}
    return found + [Raise(groups[key], since, None) for key, since in open_since.items()]


def _verdicts(row: Sighting, policy: Policy) -> Iterator[tuple[str, str, bool]]:
    for rule in RULES:
        if rule.drift or rule.information or rule.series not in row.values:
            continue
        bounds = bounds_of(rule, policy, row.band_low)
        if bounds is not None and isinstance(rule.test, Beyond):
            yield rule.key, rule.group, bool(rule.test.side_of(row.values[rule.series], bounds))


def any_jump(rows: Iterable[Sighting]) -> list[Raise]:
    """Each value that far from the one before is a flag until the next value of its series."""
    last: dict[str, float] = {}
    held: dict[str, datetime] = {}
    found: list[Raise] = []
    for row in rows:
        for series, value in row.values.items():
            if series not in JUMPS:
                continue
            if series in held:
                found.append(Raise(JUMPS[series][0], held.pop(series), row.at))
            if series in last and _jumped(series, last[series], value):
                held[series] = row.at
            last[series] = value
    return found + [Raise(JUMPS[series][0], since, None) for series, since in held.items()]


def _jumped(series: str, before: float, value: float) -> bool:
    _, direction, ratio = JUMPS[series]
    if ratio:
        return direction * math.log(value / before) >= ratio
    return direction * (value - before) >= STEPS[series]
