"""What stands around a page."""

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest

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
    assert "06:30 UTC" in page.text


def test_the_demo_says_that_it_is_one(browser: Browser):
    assert "Demo: an invented unit" in browser.get("/sign-in").page.text
