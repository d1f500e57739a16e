"""A shift on each engine."""

import pytest

from app.record.database import Database
from tests.actions.scene import Shift
from tests.clock import Clock
from tests.ward import open_ward


@pytest.fixture
def shift(database: Database, clock: Clock) -> Shift:
    """The ward with its record and its clock."""
    return Shift(database, clock, open_ward(database, clock))
