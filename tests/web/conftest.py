"""A running site with one therapist in it, and a browser on it."""

from collections.abc import Iterator

import pytest
from fastapi import FastAPI

from app.record.database import Database
from app.web.dependencies import Reader, Watcher
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.site import hire, open_site


def add_probes(app: FastAPI) -> None:
    """A page that somebody opens, a part that a page asks for by itself, and a form."""

    @app.get("/probe")
    def opened(reader: Reader) -> str:
        return reader.person.display_name

    @app.get("/probe/rows")
    def asked(watcher: Watcher) -> str:
        return watcher.person.display_name

    @app.post("/probe")
    def sent(reader: Reader) -> str:
        return reader.person.display_name


def with_ash(database: Database, clock: Clock) -> FastAPI:
    """The demo's app, with Ash, a therapist."""
    hire(database, clock, "ash")
    app = open_site(database, clock)
    add_probes(app)
    return app


@pytest.fixture
def app(database: Database, clock: Clock) -> FastAPI:
    """It on each engine."""
    return with_ash(database, clock)


@pytest.fixture
def browser(app: FastAPI) -> Iterator[Browser]:
    """Somebody in front of it, not signed in."""
    with browsing(app) as browser:
        yield browser


@pytest.fixture
def plain_app(sqlite_database: Database, clock: Clock) -> FastAPI:
    """The same on SQLite only, for what does not depend on the engine."""
    return with_ash(sqlite_database, clock)


@pytest.fixture
def plain_browser(plain_app: FastAPI) -> Iterator[Browser]:
    """Somebody in front of that."""
    with browsing(plain_app) as browser:
        yield browser
