"""Whether the server lives, and whether it can serve."""

from contextlib import contextmanager

from app.record.database import Database
from app.record.errors import NotReadable
from tests.client import Browser, browsing
from tests.site import open_site


def test_a_migrated_record_is_ready(browser: Browser):
    assert browser.get("/healthz/ready").status == 200


def test_an_empty_store_is_not_ready_and_yet_alive(engine, clock):
    with engine.fresh(migrated=False) as database, browsing(open_site(database, clock)) as browser:
        assert browser.get("/healthz/ready").status == 503
        assert browser.get("/healthz/live").status == 200


def test_a_store_that_cannot_be_read_is_not_ready(plain_browser: Browser, monkeypatch):
    @contextmanager
    def refused(_self):
        raise NotReadable("the connection is gone")
        yield

    monkeypatch.setattr(Database, "reading", refused)
    assert plain_browser.get("/healthz/ready").status == 503


def test_health_tells_nothing_else(plain_browser: Browser):
    assert plain_browser.get("/healthz/live").text == "alive\n"
