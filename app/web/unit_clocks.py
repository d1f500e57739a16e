"""The clock of a unit as the record describes it."""

from datetime import time

from app.record.units import Unit
from app.rules.unit_clock import UnitClock

NO_UNIT = UnitClock("UTC")
"""For pages that belong to no unit, such as the sign-in."""


def clock_of(unit: Unit | None) -> UnitClock:
    """The unit's zone and shifts; the usual two shifts where it states none."""
    if unit is None:
        return NO_UNIT
    starts = tuple(time.fromisoformat(text) for text in unit.shift_times)
    return UnitClock(unit.zone.key, starts) if starts else UnitClock(unit.zone.key)
