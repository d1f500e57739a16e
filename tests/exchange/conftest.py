"""A unit to import into."""

import pytest

from app.actions.set_up_unit import NewUnit, set_up_unit
from app.exchange.commands import Desk
from app.record.database import Database
from app.record.people import set_up_person
from app.record.units import Unit, find_unit
from tests.clock import Clock


def make_unit(database: Database, clock: Clock, code: str = "L", zone: str = "UTC") -> Unit:
    """A unit with two beds, written by the set-up person."""
    with database.writing(clock) as writing:
        writing.author_id = set_up_person(writing)
        unit_id = set_up_unit(writing, NewUnit(code, "Larch", zone, ["L1", "L2"]))
    with database.reading() as session:
        return find_unit(session, unit_id)


@pytest.fixture
def unit(database: Database, clock: Clock) -> Unit:
    """A unit in a database of the test's own, once on each engine."""
    return make_unit(database, clock)


@pytest.fixture
def desk(sqlite_database: Database, clock: Clock) -> Desk:
    """What the commands work on, with one unit in it."""
    make_unit(sqlite_database, clock)
    return Desk(sqlite_database, clock)
