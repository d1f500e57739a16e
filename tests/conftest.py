"""What every room's tests may ask for."""

import gc
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import settings

from app.record.database import Database
from tests.clock import Clock
from tests.engines import ENGINES, Postgresql, Sqlite, folder_of_databases

# Pages are parsed into many small objects that all go at once: looking for cycles among them after
# every few hundred was a seventh of the whole run.
gc.set_threshold(100_000, 50, 100)

# A slow machine is no wrong answer: no test of this house is timed.
settings.register_profile("house", deadline=None)
settings.load_profile("house")


@pytest.fixture(scope="session")
def sqlite() -> Iterator[Sqlite]:
    """Copies of a migrated SQLite file."""
    with TemporaryDirectory(prefix="leeboard-test-", dir=folder_of_databases()) as folder:
        yield Sqlite(Path(folder))


@pytest.fixture(scope="session")
def postgresql() -> Iterator[Postgresql]:
    """Clones of a migrated PostgreSQL database."""
    server = Postgresql()
    yield server
    server.stop()


@pytest.fixture(params=ENGINES)
def engine(request: pytest.FixtureRequest) -> Sqlite | Postgresql:
    """Each engine in turn."""
    return request.getfixturevalue(request.param)


@pytest.fixture
def database(engine: Sqlite | Postgresql) -> Iterator[Database]:
    """A migrated database of the test's own, once on each engine."""
    with engine.fresh() as fresh:
        yield fresh


@pytest.fixture
def sqlite_database(sqlite: Sqlite) -> Iterator[Database]:
    """The same on SQLite only, for what does not depend on the engine."""
    with sqlite.fresh() as fresh:
        yield fresh


@pytest.fixture
def clock() -> Clock:
    """A clock that stands still until the test moves it."""
    return Clock()


def pytest_collection_finish() -> None:
    """What is imported by now stays until the end: it need not be looked through again."""
    gc.collect()
    gc.freeze()
