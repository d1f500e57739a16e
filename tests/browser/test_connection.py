"""The connection drops while somebody types: the page says so, keeps it all, and sends it once."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from sqlalchemy import select

from app.record.tables import AssessmentRow, table_of
from tests.browser.live_ward import LiveWard, sign_in

pytestmark = pytest.mark.xdist_group("browser")

NO_SERVER = "the server cannot be reached"


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    opened = browser.new_context(viewport={"width": 1024, "height": 768})
    yield opened
    opened.close()


@pytest.fixture
def page(context: BrowserContext, live: LiveWard) -> Page:
    """Ash, signed in, before a gas that is not typed yet."""
    opened = context.new_page()
    sign_in(opened, live)
    opened.goto(live.assess(kind="?kind=gas"))
    return opened


GAS = {"ph": "7.38", "paco2": "41", "pao2": "88"}


def type_gas(page: Page) -> None:
    page.select_option("#f-gas_specimen", "arterial")
    for code, typed in GAS.items():
        page.fill(f"#f-{code}", typed)


def rows(live: LiveWard) -> int:
    with live.database.reading() as session:
        return len(session.execute(select(table_of(AssessmentRow))).all())


def test_a_save_without_a_connection_says_so_and_is_sent_once_when_it_is_back(
    page: Page, context: BrowserContext, live: LiveWard
) -> None:
    before = rows(live)
    type_gas(page)
    context.set_offline(True)
    page.click("button.first")
    expect(page.locator("#lost")).to_contain_text(f"Not saved: {NO_SERVER}")
    page.click("button.first")
    assert page.input_value("#f-pao2") == GAS["pao2"]
    assert rows(live) == before
    context.set_offline(False)
    page.wait_for_url("**/courses/*saved=*")
    assert rows(live) == before + 1


def test_a_draft_that_does_not_arrive_is_said_and_kept_once_it_can_be(
    page: Page, context: BrowserContext
) -> None:
    context.set_offline(True)
    page.fill("#f-pao2", "93")
    expect(page.locator("#lost")).to_contain_text(f"Not kept: {NO_SERVER}")
    context.set_offline(False)
    expect(page.locator("#draft-said")).to_contain_text("kept for you", timeout=15_000)
    expect(page.locator("#lost")).to_be_hidden()
    assert page.input_value("#f-pao2") == "93"


def test_whoever_types_on_is_not_saved_behind_their_back(
    page: Page, context: BrowserContext, live: LiveWard
) -> None:
    before = rows(live)
    type_gas(page)
    context.set_offline(True)
    page.click("button.first")
    expect(page.locator("#lost")).to_contain_text("Not saved")
    page.fill("#f-pao2", "90")
    expect(page.locator("#lost")).to_contain_text("not sent any more")
    with page.expect_response("**/assess/draft"):
        context.set_offline(False)
    assert (rows(live), page.input_value("#f-pao2")) == (before, "90")
