"""The scene that the record's tests begin with."""

import pytest

from app.record.database import Database
from tests.clock import Clock
from tests.record.scene import Scene, set_scene


@pytest.fixture
def scene(database: Database, clock: Clock) -> Scene:
    """A unit with three beds, a therapist and one course in the first bed, on each engine."""
    return set_scene(database, clock)
