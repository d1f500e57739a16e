"""A tube comes out unplanned: one key opens the page from the bed page, the next one records it."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from app.record.courses import course_facts
from tests.browser.live_ward import LiveWard, live_ward, sign_in
from tests.clock import Clock
from tests.engines import Sqlite
from tests.ward import EVENING

pytestmark = pytest.mark.xdist_group("browser")


@pytest.fixture
def live(sqlite: Sqlite) -> Iterator[LiveWard]:
    clock = Clock(EVENING)
    with live_ward(sqlite, clock, identity_digits=2) as served:
        yield served


@pytest.fixture
def page(browser: Browser, live: LiveWard) -> Iterator[Page]:
    opened = browser.new_page()
    sign_in(opened, live)
    yield opened
    opened.close()


def test_two_keys_from_the_bed_page_once_it_was_said_whose_chart_it_is(page: Page, live: LiveWard):
    bed = live.assess().removesuffix("/assess")
    page.goto(f"{bed}/events")
    page.get_by_label("What happened").select_option("suction")
    page.get_by_role("button", name="Save event").click()
    page.get_by_label("record number").fill("86")
    page.keyboard.press("Enter")
    expect(page).to_have_url(f"{bed}#events-head")
    page.wait_for_load_state()  # a key is heard once the scripts are there

    page.keyboard.press("F8")
    page.wait_for_url(f"{bed}/tube-out")
    expect(page.get_by_role("button", name="Record: tube out, unplanned")).to_be_focused()
    page.keyboard.press("Enter")

    page.wait_for_url(bed)
    expect(page.get_by_text("Tube out: support not charted")).to_be_visible()
    with live.database.reading() as session:
        facts = course_facts(session, live.ward.courses["L3"])
    assert facts.airways[-1].act == "removed"
    assert facts.events[-1].kind == "unplanned_extubation"


def test_a_letter_does_nothing_and_f8_in_a_page_without_it_neither(page: Page, live: LiveWard):
    bed = live.assess().removesuffix("/assess")
    page.goto(bed)
    page.keyboard.press("u")
    page.keyboard.press("Shift+F8")
    expect(page).to_have_url(bed)
