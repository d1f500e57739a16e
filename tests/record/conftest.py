"""The scene that the record's tests begin with."""

from collections.abc import Iterator

import pytest
from msgspec.structs import replace

from app.record.database import Database
from tests.clock import Clock
from tests.engines import Postgresql, Sqlite
from tests.record.scene import Scene, set_scene


@pytest.fixture
def scene(engine: Sqlite | Postgresql, clock: Clock) -> Iterator[Scene]:
    """A unit with three beds, a therapist and one course in the first bed, on each engine."""
    with engine.set_up(f"scene at {clock.now}", lambda made: set_scene(made, clock)) as opened:
        database, scene = opened
        yield replace(scene, database=database, clock=clock)


@pytest.fixture
def database(request: pytest.FixtureRequest, engine: Sqlite | Postgresql) -> Iterator[Database]:
    """The scene's record where a test asks for the scene, else one with nothing in it."""
    if "scene" in request.fixturenames:
        yield request.getfixturevalue("scene").database
        return
    with engine.fresh() as fresh:
        yield fresh
