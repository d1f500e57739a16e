"""Whether the server lives, and whether it can serve."""

from contextlib import contextmanager

from app.record.database import Database
from app.record.errors import NotReadable
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.site import open_site
from tests.ward import open_ward


def test_a_site_with_a_unit_and_a_person_is_ready(database: Database, clock: Clock):
    open_ward(database, clock)
    with browsing(open_site(database, clock)) as browser:
        answer = browser.get("/healthz/ready")
    assert (answer.status, answer.text) == (200, "ready\n")


def test_a_site_without_a_unit_is_not_ready_and_says_how_to_be(plain_browser: Browser):
    answer = plain_browser.get("/healthz/ready")
    assert answer.status == 503
    assert answer.text.startswith("not ready\nThis site has no unit yet. leeboard unit add ")
    assert "Nobody can sign in" not in answer.text


def test_an_empty_store_is_not_ready_and_yet_alive(engine, clock):
    with engine.fresh(migrated=False) as database, browsing(open_site(database, clock)) as browser:
        answer = browser.get("/healthz/ready")
        assert (answer.status, "leeboard migrate" in answer.text) == (503, True)
        assert browser.get("/healthz/live").status == 200


def test_a_store_that_cannot_be_read_is_not_ready(plain_browser: Browser, monkeypatch):
    @contextmanager
    def refused(_self):
        raise NotReadable("the connection is gone")
        yield

    monkeypatch.setattr(Database, "reading", refused)
    answer = plain_browser.get("/healthz/ready")
    words = "not ready\nThe record cannot be read: the connection is gone.\n"
    assert (answer.status, answer.text) == (503, words)


def test_health_tells_nothing_else(plain_browser: Browser):
    assert plain_browser.get("/healthz/live").text == "alive\n"
