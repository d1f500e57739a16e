"""The clock of the unit that a site serves."""

from collections.abc import Sequence

from app.record.judging import clock_of
from app.record.units import Unit
from app.rules.unit_clock import UnitClock

NO_UNIT = UnitClock("UTC")
"""For pages that belong to no unit, such as the sign-in."""


def clock_of_site(units: Sequence[Unit]) -> UnitClock:
    """The first unit's clock; UTC before any unit was set up."""
    return clock_of(units[0]) if units else NO_UNIT
