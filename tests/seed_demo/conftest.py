"""The demo unit, seeded once for all tests that only read it."""

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from argon2.profiles import CHEAPEST

from app.actions.passwords import Passwords
from seed_demo.unit import seed
from tests.engines import Sqlite
from tests.seed_demo.larch import Larch

NOW = datetime(2026, 3, 5, 19, 5, 33, tzinfo=UTC)
"""Five past two in the afternoon at the unit, on an ordinary Thursday."""


@pytest.fixture(scope="session")
def larch(sqlite: Sqlite) -> Iterator[Larch]:
    """Unit Larch at NOW. Nobody writes to it; whoever reads it is of the group `larch`, so that one
    worker alone makes it."""
    with sqlite.fresh() as database:
        seeded = seed(database, NOW, passwords=Passwords(CHEAPEST))
        yield Larch(database, seeded, NOW)
