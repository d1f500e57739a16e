"""Every rule, group by group."""

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
