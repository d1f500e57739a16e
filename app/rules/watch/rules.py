"""Every rule, group by group, and which rules read a series."""

from collections.abc import Mapping
from types import MappingProxyType

from app.rules.watch import (
    acid_base,
    airway,
    drive,
    leak,
    mechanics,
    oxygenation,
    safety,
    volume,
)
from app.rules.watch.rule import Rule

RULES: tuple[Rule, ...] = (
    *mechanics.RULES,
    *airway.RULES,
    *volume.RULES,
    *leak.RULES,
    *oxygenation.RULES,
    *drive.RULES,
    *acid_base.RULES,
    *safety.RULES,
)
"""In the order of a round's groups; keys are those of the policy's `[rules.*]`."""


def _by_series() -> Mapping[str, tuple[Rule, ...]]:
    found: dict[str, tuple[Rule, ...]] = {}
    for rule in RULES:
        found[rule.series] = (*found.get(rule.series, ()), rule)
    return MappingProxyType(found)


BY_SERIES: Mapping[str, tuple[Rule, ...]] = _by_series()
