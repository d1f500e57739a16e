"""Every index once, in the order in which pages show them.

The first eleven stand on the board and in a bed's rows; the rest is under "more" and on the
calculator.
"""

from collections.abc import Mapping
from types import MappingProxyType

from app.physiology.catalogue import breath, gases, supply
from app.physiology.catalogue.index import Index, Input

_IN_ORDER: tuple[Index, ...] = (
    *breath.BODY,
    *breath.MECHANICS,
    *breath.VENTILATION,
    *gases.OXYGENATION,
    *breath.EMPTYING[:1],
    *breath.WEANING[:1],
    *gases.MORE_OXYGENATION,
    *breath.POWER[:1],
    *breath.WEANING[1:],
    *gases.ALVEOLAR,
    *gases.DEAD_SPACE,
    *gases.CLASSES,
    *breath.EMPTYING[1:],
    *breath.POWER[1:],
    *gases.MORE_DEAD_SPACE,
    *gases.ACID_BASE,
    *gases.SATURATION,
    *gases.PRINTED_FORMS,
    *supply.SUPPLY,
)

CATALOGUE: Mapping[str, Index] = MappingProxyType({index.key: index for index in _IN_ORDER})

ON_THE_BOARD: tuple[str, ...] = tuple(CATALOGUE)[:11]
"""Predicted body weight to expiratory time, and P/F."""

ALIASES: Mapping[str, str] = MappingProxyType(
    {
        "ie_ratio_te_over_ti": "ie_ratio",
        "alveolar_po2_full": "alveolar_po2",
        "aa_gradient_full": "aa_gradient",
    }
)
"""Other names under which a file of cases may ask for an index."""


def find(key: str) -> Index | None:
    """The index of this key or alias; None where there is none."""
    return CATALOGUE.get(ALIASES.get(key, key))


__all__ = ["ALIASES", "CATALOGUE", "ON_THE_BOARD", "Index", "Input", "find"]
