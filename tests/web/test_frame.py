"""What stands around a page."""

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest

from app.actions.set_up_unit import NewUnit, set_up_unit
from app.record.errors import NotReadable
from app.record.people import set_up_person
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.site import PASSWORD, open_site
from tests.ward import IDENTIFIERS, open_ward


@pytest.fixture
def clock() -> Clock:
    """The night on which the unit's clock goes back: 01:30 for the second time."""
    return Clock(datetime(2026, 11, 1, 6, 30, tzinfo=UTC))


@pytest.fixture
def browser(sqlite_database, clock: Clock) -> Iterator[Browser]:
    open_ward(sqlite_database, clock)
    with browsing(open_site(sqlite_database, clock), identifiers=IDENTIFIERS) as browser:
        yield browser


def test_a_page_shows_who_looks_where_and_at_what_time_there(browser: Browser):
    browser.sign_in("ash", PASSWORD, follow=False)
    text = browser.get("/no-such-page").page.text
    assert "Unit Larch" in text
    assert "Ash, respiratory therapist" in text
    assert "Sun 1 Nov 2026, 01:30 EST" in text


def test_before_the_sign_in_a_page_names_neither_unit_nor_person(browser: Browser):
    page = browser.get("/sign-in").page
    assert page.title == "Sign in · Leeboard"
    assert "Larch" not in page.text
    assert "Sun 1 Nov 2026, 01:30 EST" in page.text


@pytest.mark.parametrize(
    ("zone", "shown"), [("America/New_York", "01:30 EST"), ("Europe/Berlin", "06:30 UTC")]
)
def test_before_the_sign_in_the_clock_is_that_of_the_zone_which_all_units_share(
    browser: Browser, sqlite_database, clock: Clock, zone: str, shown: str
):
    assert "01:30 EST" in browser.get("/sign-in").page.text
    with sqlite_database.writing(clock) as writing:
        writing.author_id = set_up_person(writing)
        set_up_unit(writing, NewUnit("alder", "Unit Alder", zone, ["A1"]))
    assert shown in browser.get("/sign-in").page.text


def test_a_refused_sign_in_and_a_page_for_nobody_show_the_same_clock(browser: Browser):
    assert "01:30 EST" in browser.sign_in("ash", "wrong").page.text
    assert "01:30 EST" in browser.get("/no-such-page").page.text


def test_while_the_record_cannot_be_read_the_sign_in_shows_utc(
    browser: Browser, sqlite_database, monkeypatch
):
    browser.get("/sign-in")

    def unreadable():
        raise NotReadable("the disk is gone")

    with monkeypatch.context() as broken:
        broken.setattr(sqlite_database, "standing_still", lambda: None)
        broken.setattr(sqlite_database, "reading", unreadable)
        answer = browser.get("/sign-in")
    assert (answer.status, "06:30 UTC" in answer.page.text) == (200, True)
    assert "01:30 EST" in browser.get("/sign-in").page.text


def test_the_sign_in_begins_in_its_first_field(browser: Browser):
    fields = browser.get("/sign-in").page.root.all("input")
    assert [e["name"] for e in fields if "autofocus" in e.attributes] == ["sign_in_name"]


def test_the_demo_says_that_it_is_one(browser: Browser):
    assert "Demo: an invented unit" in browser.get("/sign-in").page.text
