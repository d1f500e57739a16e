"""A shift on each engine."""

from collections.abc import Iterator

import pytest

from tests.actions.scene import Shift
from tests.clock import Clock
from tests.engines import Postgresql, Sqlite
from tests.ward import open_ward


@pytest.fixture
def shift(engine: Sqlite | Postgresql, clock: Clock) -> Iterator[Shift]:
    """The ward with its record and its clock."""
    with engine.set_up(f"ward at {clock.now}", lambda made: open_ward(made, clock)) as opened:
        yield Shift(opened[0], clock, opened[1])
