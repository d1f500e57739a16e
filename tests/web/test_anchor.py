"""The log holds the end of the chain, and every line tells which request it belongs to."""

from contextlib import contextmanager

import anyio
import pytest
from anyio.from_thread import start_blocking_portal
from structlog.contextvars import merge_contextvars
from structlog.testing import capture_logs

from app.record.audit import tail
from app.record.database import Database
from app.record.errors import NotReadable, NotWritable
from app.web.anchor import anchored
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.site import PASSWORD, hire, open_site


def chain_lines(lines: list[dict]) -> list[dict]:
    return [line for line in lines if line["event"].startswith("chain")]


def test_a_site_tells_the_end_of_the_chain_when_it_starts_and_when_it_stops(
    database: Database, clock: Clock
):
    hire(database, clock, "ash")
    with database.reading() as session:
        before = tail(session)
    with capture_logs() as lines, browsing(open_site(database, clock)) as browser:
        browser.sign_in("ash", PASSWORD)
        with database.reading() as session:
            after = tail(session)
    told = [(line["when"], line["seq"], line["hash"]) for line in chain_lines(lines)]
    assert told == [("start", before.seq, before.hash), ("stop", after.seq, after.hash)]
    assert after.seq > before.seq


def test_it_tells_it_again_every_hour(sqlite_database: Database, clock: Clock):
    hire(sqlite_database, clock, "ash")

    async def run() -> None:
        async with anchored(sqlite_database, every_s=0.02):
            await anyio.sleep(0.2)

    # A thread of its own: beside a browser's test this one already runs a loop.
    with capture_logs() as lines, start_blocking_portal() as portal:
        portal.call(run)
    whens = [line["when"] for line in chain_lines(lines)]
    assert (whens[0], whens[-1], set(whens[1:-1])) == ("start", "stop", {"hour"})
    assert len(whens) > 3


def test_an_hour_is_an_hour():
    from app.web import anchor

    assert anchor.HOUR_S == 60 * 60


@pytest.mark.parametrize("migrated", [True, False])
def test_a_record_that_cannot_be_read_stops_no_site(sqlite, clock, monkeypatch, migrated: bool):
    @contextmanager
    def refused(_self):
        raise NotReadable("the connection is gone")
        yield

    with sqlite.fresh(migrated=migrated) as database:
        if migrated:
            monkeypatch.setattr(Database, "reading", refused)
        with capture_logs() as lines, browsing(open_site(database, clock)) as browser:
            assert browser.get("/healthz/live").status == 200
    assert [line["event"] for line in chain_lines(lines)] == ["chain_not_read"] * 2


def logged():
    """Every line with what the process adds to it while a request is served."""
    return capture_logs(processors=[merge_contextvars])


def test_whatever_is_logged_for_a_request_carries_its_number(
    plain_browser: Browser, clock: Clock, monkeypatch
):
    @contextmanager
    def refused(*_: object, **__: object):
        raise NotWritable("the disk is full")
        yield

    plain_browser.sign_in("ash", PASSWORD, follow=False)
    monkeypatch.setattr(Database, "_transaction", refused)
    clock.forward(minutes=1)
    with logged() as lines:
        number = plain_browser.get("/probe").headers["x-request-id"]
    assert {(line["event"], line["request_id"]) for line in lines} == {
        ("request", number),
        ("touch_not_kept", number),
    }


def test_a_number_does_not_leak_into_the_next_request(plain_browser: Browser):
    with logged() as lines:
        numbers = [plain_browser.get("/sign-in").headers["x-request-id"] for _ in range(2)]
    assert ([line["request_id"] for line in lines], len(set(numbers))) == (numbers, 2)
