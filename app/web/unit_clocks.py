"""The clock of the unit that a site serves, and the one over a page that belongs to no unit."""

from collections.abc import Sequence

from app.record.database import Database
from app.record.judging import clock_of
from app.record.units import Unit, list_units
from app.rules.unit_clock import UnitClock

NO_UNIT = UnitClock("UTC")
"""Where no zone is everybody's: before any unit was set up, and between units of several zones."""


def clock_of_site(units: Sequence[Unit]) -> UnitClock:
    """The first unit's clock; UTC before any unit was set up."""
    return clock_of(units[0]) if units else NO_UNIT


def clock_for_nobody(database: Database) -> UnitClock:
    """The clock before anybody signed in: that of the zone which all units share, else UTC.

    Raises NotReadable.
    """
    with database.reading() as session:
        zones = {str(unit.zone) for unit in list_units(session)}
    return UnitClock(zones.pop()) if len(zones) == 1 else NO_UNIT
