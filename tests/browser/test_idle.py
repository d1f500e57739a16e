"""A page that nobody touches: it warns, keeps what was typed, empties itself, and asks first."""

import re
import time
from collections.abc import Callable, Iterator
from urllib.parse import parse_qs, urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from sqlalchemy import select

from app.record.tables import DraftRow, table_of
from tests.browser.live_ward import LiveWard, sign_in
from tests.site import PASSWORD

pytestmark = pytest.mark.xdist_group("browser")

DRAFT = table_of(DraftRow)
MINUTE = 60_000
PATIENT = "P-01 Test"
SIGN_IN = re.compile("/sign-in")


@pytest.fixture
def tablet(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 1024, "height": 768})
    yield context
    context.close()


@pytest.fixture
def page(tablet: BrowserContext, live: LiveWard) -> Iterator[Page]:
    """Ash, signed in, on a page whose clock stands still until a test moves it."""
    opened = tablet.new_page()
    faults: list[str] = []
    opened.on("pageerror", lambda error: faults.append(str(error)))
    opened.clock.install()
    sign_in(opened, live)
    yield opened
    assert not faults


def bed(live: LiveWard) -> str:
    return live.assess().removesuffix("/assess")


def wait(page: Page, live: LiveWard, minutes: float) -> None:
    """Let time pass, for the server first: it has to be past the end when the page asks."""
    live.clock.forward(minutes=minutes)
    page.clock.run_for(int(minutes * MINUTE))


def drafts(live: LiveWard) -> int:
    with live.database.reading() as session:
        return len(session.execute(select(DRAFT)).all())


def until(is_so: Callable[[], bool]) -> None:
    """What a closing page sends on its way out arrives when it does."""
    for _ in range(100):
        if is_so():
            return
        time.sleep(0.1)
    raise AssertionError("it did not come about within ten seconds")


def type_half(page: Page, live: LiveWard) -> None:
    page.goto(live.assess())
    page.fill("#f-spo2", "93")
    page.fill("#f-plateau_pressure_obs", "27")


def let_it_be_kept(page: Page) -> None:
    """Before time leaps: a draft that arrives behind the leap says that somebody is here now."""
    with page.expect_response("**/assess/draft"):
        page.clock.run_for(3000)


def test_a_page_warns_two_minutes_before_it_locks(page: Page, live: LiveWard) -> None:
    page.goto(bed(live))
    wait(page, live, 12.9)
    expect(page.locator("#idle")).to_be_hidden()
    wait(page, live, 0.2)
    expect(page.locator("#idle")).to_be_visible()
    expect(page.locator("#idle-left")).to_have_text("2 min")
    wait(page, live, 1)
    expect(page.locator("#idle-left")).to_have_text("1 min")


def test_whoever_presses_stay_stays_where_they_are(page: Page, live: LiveWard) -> None:
    type_half(page, live)
    let_it_be_kept(page)
    wait(page, live, 14)
    page.click("text=Stay signed in")
    expect(page.locator("#idle")).to_be_hidden()
    assert page.input_value("#f-spo2") == "93"
    wait(page, live, 14)
    expect(page.locator("#idle")).to_be_visible()
    expect(page.locator("h1")).to_have_text("Check")


def test_at_the_end_the_page_is_emptied_and_leads_to_the_door(page: Page, live: LiveWard) -> None:
    page.goto(bed(live))
    expect(page.locator("body")).to_contain_text(PATIENT)
    wait(page, live, 15.1)
    page.wait_for_url("**/sign-in?next=*")
    path = urlsplit(bed(live)).path
    assert parse_qs(urlsplit(page.url).query) == {"next": [path]}
    assert PATIENT not in page.content()


def test_a_page_that_cannot_ask_is_emptied_all_the_same(page: Page, live: LiveWard) -> None:
    page.goto(bed(live))
    page.route("**/*", lambda route: route.abort())
    wait(page, live, 15.1)
    expect(page.locator("body")).not_to_contain_text(PATIENT)


def test_a_board_that_refreshes_itself_locks_all_the_same(page: Page, live: LiveWard) -> None:
    page.goto(live.origin)
    for _ in range(15):
        wait(page, live, 1)
    wait(page, live, 0.1)
    expect(page).to_have_url(SIGN_IN)  # by the lock or by the board's own answer


def test_a_page_beside_another_that_is_used_does_not_lock(
    page: Page, live: LiveWard, tablet: BrowserContext
) -> None:
    page.goto(bed(live))
    wait(page, live, 10)
    other = tablet.new_page()
    other.goto(f"{live.origin}/courses")
    with page.expect_response("**/still-here"):
        wait(page, live, 5.1)
    expect(page.locator("body")).to_contain_text(PATIENT)
    expect(page.locator("#idle")).to_be_hidden()


def test_whoever_goes_on_typing_is_not_locked_out(page: Page, live: LiveWard) -> None:
    page.goto(f"{bed(live)}/handoff")
    page.locator("details.write summary").first.click()
    words = page.locator("textarea[name=words]").first
    for _ in range(20):
        wait(page, live, 1)
        with page.expect_response("**/still-here"):
            words.press_sequentially("x")
    expect(page.locator("#idle")).to_be_hidden()
    assert words.input_value() == "x" * 20


def test_a_half_typed_check_is_there_again_after_the_lock(page: Page, live: LiveWard) -> None:
    type_half(page, live)
    let_it_be_kept(page)
    expect(page.locator("#draft-said")).to_contain_text("kept for you 19:30, not saved")
    wait(page, live, 15.1)
    page.wait_for_url("**/sign-in*")
    page.fill("[name=sign_in_name]", "ash")
    page.fill("[name=password]", PASSWORD)
    page.click("form[action='/sign-in'] button[type=submit]")
    page.wait_for_url("**/assess")
    assert page.input_value("#f-spo2") == "93"
    assert page.input_value("#f-plateau_pressure_obs") == "27"
    expect(page.locator("main")).to_contain_text("Look again before you save")


def test_whoever_leaves_at_once_finds_it_again_too(page: Page, live: LiveWard) -> None:
    type_half(page, live)
    page.goto(live.origin)
    until(lambda: drafts(live) == 1)
    page.goto(live.assess())
    assert page.input_value("#f-plateau_pressure_obs") == "27"
    page.click("text=Throw it away")
    page.wait_for_url("**/assess?kind=full")
    assert page.input_value("#f-plateau_pressure_obs") == ""


def test_a_form_on_its_way_to_be_saved_is_not_kept_again(page: Page, live: LiveWard) -> None:
    page.goto(live.assess(kind="?kind=gas"))
    page.select_option("#f-gas_specimen", "arterial")
    for code, typed in {"ph": "7.38", "paco2": "41", "pao2": "88"}.items():
        page.fill(f"#f-{code}", typed)
    page.click("button.first")
    page.wait_for_url(f"{bed(live)}?saved=*")
    page.goto(live.origin)
    assert drafts(live) == 0
