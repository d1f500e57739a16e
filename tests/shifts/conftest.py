"""The ward with its app, and a browser on it, on each engine."""

from collections.abc import Iterator

import pytest
from fastapi import FastAPI

from app.record.database import Database
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.engines import Postgresql, Sqlite
from tests.shifts.ward_after import ward_after
from tests.site import PASSWORD, open_site
from tests.ward import EVENING, IDENTIFIERS, Ward


@pytest.fixture
def clock() -> Clock:
    """It stands at 19:30 in the unit."""
    return Clock(EVENING)


@pytest.fixture
def opened(engine: Sqlite | Postgresql, clock: Clock) -> Iterator[tuple[Database, Ward]]:
    """A record with the ward in it, once on each engine."""
    with ward_after(engine, clock) as opened:
        yield opened


@pytest.fixture
def database(request: pytest.FixtureRequest, engine: Sqlite | Postgresql) -> Iterator[Database]:
    """The ward's record where a test asks for the ward, else one with nothing in it."""
    if "ward" in request.fixturenames:
        yield request.getfixturevalue("opened")[0]
        return
    with engine.fresh() as fresh:
        yield fresh


@pytest.fixture
def ward(opened: tuple[Database, Ward]) -> Ward:
    """Unit Larch with its people and patients."""
    return opened[1]


@pytest.fixture
def app(database: Database, clock: Clock, ward: Ward) -> FastAPI:
    """The app on the ward's record."""
    return open_site(database, clock)


@pytest.fixture
def browser(app: FastAPI) -> Iterator[Browser]:
    """Somebody in front of it, not signed in."""
    with browsing(app, identifiers=IDENTIFIERS) as browser:
        yield browser


@pytest.fixture
def ash(browser: Browser) -> Browser:
    """Ash, a therapist, signed in."""
    browser.sign_in("ash", PASSWORD)
    return browser


@pytest.fixture
def birch(ash: Browser) -> Browser:
    """Birch, another therapist, at another screen."""
    other = ash.another()
    other.sign_in("birch", PASSWORD)
    return other


@pytest.fixture
def bed(ward: Ward) -> str:
    """The bed page of P-01 in L3: oral tube 7.5, 22 cm at the lip, two days on support."""
    return f"/courses/{ward.courses['L3']}"
