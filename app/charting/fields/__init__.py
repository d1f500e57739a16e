"""Every field that can be charted, declared once, in the order of the round at the bedside."""

from collections.abc import Mapping
from types import MappingProxyType

from app.charting.field import Field, Group
from app.charting.fields import (
    adjuncts,
    airway,
    alarms,
    breath,
    circuit,
    gas,
    identity,
    measured,
    patient,
    settings,
)

_IN_BEDSIDE_ORDER: tuple[Field, ...] = (
    *identity.FIELDS,
    *patient.PATIENT,
    *patient.MONITOR,
    *airway.TUBE,
    *airway.CHEST,
    *settings.COMMON,
    *breath.BREATH,
    *breath.TWO_LEVEL,
    *adjuncts.ADJUNCTS,
    *measured.BREATHS,
    *measured.HOLDS,
    *alarms.FIELDS,
    *circuit.HUMIDIFICATION,
    *circuit.SAFETY,
    *gas.FIELDS,
)

FIELDS: Mapping[str, Field] = MappingProxyType({field.code: field for field in _IN_BEDSIDE_ORDER})
"""Field code to declaration; iterating it walks the round from the door to the blood gas."""


def in_group(group: Group) -> tuple[Field, ...]:
    """The fields of one group, in bedside order."""
    return tuple(field for field in FIELDS.values() if field.group is group)
