"""How long a sign-in lasts, and what ends it."""

from contextlib import contextmanager
from datetime import datetime

import pytest
from fastapi import FastAPI
from sqlmodel import select

from app.record.database import Database
from app.record.errors import NotWritable
from app.record.tables import SessionRow
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.site import PASSWORD, dismiss


@pytest.fixture
def ash(browser: Browser) -> Browser:
    """Ash, signed in."""
    browser.sign_in("ash", PASSWORD, follow=False)
    return browser


def is_in(browser: Browser) -> bool:
    return browser.get("/probe", follow=False).status == 200


def seen_at(database: Database) -> datetime:
    with database.reading() as session:
        return session.exec(select(SessionRow)).one().last_seen_at


@pytest.mark.parametrize(("seconds", "expected"), [(14 * 60 + 59, True), (15 * 60, False)])
def test_fifteen_idle_minutes_end_a_session(
    ash: Browser, clock: Clock, seconds: int, expected: bool
):
    clock.forward(seconds=seconds)
    assert is_in(ash) is expected


def test_use_keeps_a_session_until_its_absolute_end(ash: Browser, clock: Clock):
    for _ in range(13 * 6 - 1):
        clock.forward(minutes=10)
        assert is_in(ash)
    clock.forward(minutes=10)
    assert not is_in(ash)


def test_a_page_that_asks_by_itself_does_not_keep_a_session(ash: Browser, clock: Clock):
    for _ in range(14):
        clock.forward(minutes=1)
        assert ash.part("/probe/rows").status == 200
    clock.forward(minutes=1)
    assert not is_in(ash)


@pytest.mark.parametrize(("seconds", "is_noted"), [(59, False), (60, True)])
def test_use_is_noted_at_most_once_a_minute(
    ash: Browser, clock: Clock, database: Database, seconds: int, is_noted: bool
):
    signed_in_at = clock.now
    now = clock.forward(seconds=seconds)
    ash.get("/probe")
    assert seen_at(database) == (now if is_noted else signed_in_at)


def test_signing_out_ends_a_copied_cookie_too(ash: Browser):
    copy = ash.another()
    copy.cookies.set("leeboard-session", ash.cookies["leeboard-session"], domain="127.0.0.1")
    assert is_in(copy)
    ash.get("/no-such-page")
    assert ash.submit("/sign-out").path == "/sign-in"
    assert "leeboard-session" not in ash.cookies
    assert not is_in(copy)


def test_who_is_dismissed_is_out_at_the_next_request(
    ash: Browser, database: Database, clock: Clock
):
    dismiss(database, clock, "ash")
    assert not is_in(ash)


def test_a_part_asked_for_after_the_end_leads_the_whole_page_away(ash: Browser, clock: Clock):
    ash.get("/probe")
    clock.forward(minutes=15)
    answer = ash.part("/probe/rows")
    assert (answer.status, answer.headers["hx-redirect"]) == (401, "/sign-in?next=/probe")


def test_a_form_sent_after_the_end_keeps_what_was_typed_in_sight(ash: Browser, clock: Clock):
    clock.forward(minutes=15)
    answer = ash.post("/probe", {"plateau_pressure_obs": "24", "password": "hidden word"})
    assert (answer.status, answer.page.heading) == (401, "Not saved: signed out")
    assert "Plateau pressure 24" in answer.page.text
    assert "hidden word" not in answer.text


def test_ended_sessions_are_swept_at_the_next_sign_in(
    ash: Browser, database: Database, clock: Clock
):
    clock.forward(hours=13)
    ash.another().sign_in("ash", PASSWORD, follow=False)
    with database.reading() as session:
        assert len(session.exec(select(SessionRow)).all()) == 1


@pytest.fixture
def shut(app: FastAPI, monkeypatch: pytest.MonkeyPatch) -> None:
    """From now on the record cannot be written."""

    @contextmanager
    def refused(*_: object, **__: object):
        raise NotWritable("the disk is full")
        yield

    monkeypatch.setattr(Database, "_transaction", refused)


def test_reading_goes_on_under_a_line_while_nothing_can_be_saved(
    ash: Browser, clock: Clock, shut: None
):
    for _ in range(3):
        clock.forward(minutes=10)
        assert is_in(ash)
    assert "Nothing can be saved now: the disk is full" in ash.get("/no-such-page").page.text


def test_the_line_goes_with_the_trouble(
    app: FastAPI, clock: Clock, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
):
    with browsing(app) as browser:
        browser.sign_in("ash", PASSWORD, follow=False)
        request.getfixturevalue("shut")
        clock.forward(minutes=1)
        browser.get("/probe")
        assert app.state.site.health.trouble
        monkeypatch.undo()
        clock.forward(minutes=1)
        browser.get("/probe")
    assert not app.state.site.health.trouble


def test_signing_out_takes_the_cookie_back_even_when_nothing_can_be_saved(ash: Browser, shut: None):
    ash.get("/no-such-page")
    assert ash.submit("/sign-out").path == "/sign-in"
    assert "leeboard-session" not in ash.cookies
