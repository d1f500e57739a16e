"""A round in which something is odd: it waits there, is answered by a key, and loses nothing."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.browser.live_ward import LAST, Keys, LiveWard, live_ward, sign_in
from tests.browser.test_gallery import SMALL_TARGETS
from tests.clock import Clock
from tests.engines import Sqlite
from tests.ward import EVENING

pytestmark = pytest.mark.xdist_group("browser")


@pytest.fixture
def live(sqlite: Sqlite) -> Iterator[LiveWard]:
    with live_ward(sqlite, Clock(EVENING), four_hours_ago=LAST) as served:
        yield served


@pytest.fixture
def desk(browser: Browser, live: LiveWard) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    page = context.new_page()
    sign_in(page, live)
    yield page
    page.unroute_all(behavior="ignoreErrors")
    context.close()


def at_field(page: Page, live: LiveWard, name: str, kind: str = "") -> Keys:
    page.goto(live.assess(kind=kind))
    page.focus(f"#f-{name}")
    return Keys(page)


def test_an_impossible_number_keeps_the_focus_and_says_why(desk: Page, live: LiveWard) -> None:
    keys = at_field(desk, live, "peep_set")
    keys("100")
    expect(desk.locator("#says-peep_set")).to_contain_text("PEEP 100 is refused")
    expect(desk.locator("#aloud")).to_contain_text("PEEP 100 is refused")
    expect(desk.locator("#f-peep_set")).to_be_focused()
    assert desk.input_value("#f-peep_set") == "100"
    assert desk.get_attribute("#f-peep_set", "aria-invalid") == "true"


def test_typing_it_again_takes_the_refusal_away(desk: Page, live: LiveWard) -> None:
    keys = at_field(desk, live, "peep_set")
    keys("100")
    expect(desk.locator("#says-peep_set .refused")).to_be_visible()
    desk.keyboard.press("Control+a")
    keys("10")
    expect(desk.locator("#says-peep_set")).to_contain_text("changed, was 12")
    expect(desk.locator("#f-tidal_volume_set")).to_be_focused()
    assert desk.get_attribute("#f-peep_set", "aria-invalid") is None


def test_one_key_accepts_what_is_unusual_and_goes_on(desk: Page, live: LiveWard) -> None:
    keys = at_field(desk, live, "tidal_volume_set")
    keys("40")
    expect(desk.locator("#says-tidal_volume_set")).to_contain_text("was 400, −90 %?")
    expect(desk.locator("#f-tidal_volume_set")).to_be_focused()
    keys("y", key="")
    expect(desk.locator("#f-resp_rate_set")).to_be_focused()
    assert desk.input_value("#f-tidal_volume_set") == "40"
    expect(desk.locator("#says-tidal_volume_set input")).to_be_checked()


def test_a_fraction_is_echoed_and_the_walk_goes_on(desk: Page, live: LiveWard) -> None:
    keys = at_field(desk, live, "fio2_set")
    keys("0.4")
    expect(desk.locator("#f-peep_set")).to_be_focused()
    expect(desk.locator("#says-fio2_set")).to_contain_text("read as 0.4 is 40 %")


def test_keys_pressed_while_the_server_thinks_follow_to_the_next_field(
    desk: Page, live: LiveWard
) -> None:
    keys = at_field(desk, live, "fio2_set")
    slow(desk)
    keys("0.4")
    keys("14")
    expect(desk.locator("#f-tidal_volume_set")).to_be_focused()
    assert (desk.input_value("#f-fio2_set"), desk.input_value("#f-peep_set")) == ("0.4", "14")


def test_keys_pressed_behind_a_refusal_go_nowhere(desk: Page, live: LiveWard) -> None:
    keys = at_field(desk, live, "peep_set")
    slow(desk)
    keys("100")
    keys("420")
    expect(desk.locator("#says-peep_set .refused")).to_be_visible()
    expect(desk.locator("#f-peep_set")).to_be_focused()
    values = (desk.input_value("#f-peep_set"), desk.input_value("#f-tidal_volume_set"))
    assert values == ("100", "")


def slow(page: Page) -> None:
    def later(route: Route) -> None:
        page.wait_for_timeout(300)
        route.continue_()

    page.route("**/assess/live", later)


def test_a_field_is_passed_where_the_server_cannot_be_asked(desk: Page, live: LiveWard) -> None:
    keys = at_field(desk, live, "peep_set")
    desk.route("**/assess/live", lambda route: route.abort())
    keys("100")
    expect(desk.locator("#f-tidal_volume_set")).to_be_focused()
    assert desk.input_value("#f-peep_set") == "100"


def test_the_passive_question_says_that_the_patient_triggers(desk: Page, live: LiveWard) -> None:
    keys = at_field(desk, live, "resp_rate_obs")
    keys("24")
    desk.focus("#f-plateau_pressure_obs")
    keys("24")
    expect(desk.locator("#f-hold_passive")).to_be_focused()
    expect(desk.locator("#says-hold_passive")).to_contain_text(
        "Rate total 24 /min is above Rate set 20 /min, so the patient triggers"
    )
    assert desk.input_value("#f-hold_passive") == ""
    keys("n", key="")
    assert desk.input_value("#f-hold_passive") == "no"
    expect(desk.locator("#f-peep_total")).to_be_focused()


def test_without_a_hold_passive_is_not_asked(desk: Page, live: LiveWard) -> None:
    keys = at_field(desk, live, "plateau_pressure_obs")
    keys("ne", key="")
    expect(desk.locator("#f-peep_total")).to_be_focused()


def test_no_half_typed_number_is_held_against_another(desk: Page, live: LiveWard) -> None:
    keys = at_field(desk, live, "minute_vent_obs")
    keys("8.4")
    desk.focus("#f-resp_rate_obs")
    keys("21")
    desk.focus("#f-tidal_volume_obs")
    with desk.expect_response("**/assess/live"):
        keys("4", key="")
    assert desk.inner_text("#says-minute_vent_obs") == ""
    assert desk.inner_text("#says-tidal_volume_obs") == ""


def test_questions_of_a_save_are_answered_by_keys_alone(desk: Page, live: LiveWard) -> None:
    keys = at_field(desk, live, "spo2")
    keys("94", key="")
    desk.focus("#f-fio2_set")
    keys("1", key="")
    with desk.expect_navigation():
        desk.evaluate("document.getElementById('check').requestSubmit()")
    expect(desk.locator("#f-fio2_set")).to_be_focused()
    keys("y", key="")
    assert keys.at == "accept"
    keys("y", key="")
    assert keys.at == "BUTTON"
    with desk.expect_navigation():
        keys()
    assert "/assess" not in desk.url


@pytest.mark.parametrize(
    ("control", "value"), [("mode_family", "csv_ps"), ("observed_at-time", "1910")]
)
def test_fields_that_are_brought_keep_focus_and_what_is_typed_meanwhile(
    desk: Page, live: LiveWard, control: str, value: str
) -> None:
    desk.goto(live.assess())
    desk.fill("#f-spo2", "94")
    with desk.expect_response(lambda answer: answer.url.endswith("/assess")):
        if control == "mode_family":
            desk.select_option("#f-mode_family", value)
        else:
            desk.fill("#f-observed_at-time", value)
            desk.dispatch_event("#f-observed_at-time", "change")
        desk.focus("#f-heart_rate")
        desk.keyboard.type("88")
    expect(desk.locator("#f-heart_rate")).to_be_focused()
    assert (desk.input_value("#f-heart_rate"), desk.input_value("#f-spo2")) == ("88", "94")


@pytest.mark.parametrize(("wall", "late"), [("19:00", False), ("18:59", True)])
def test_an_entry_set_back_more_than_half_an_hour_says_that_it_is_late(
    desk: Page, live: LiveWard, wall: str, late: bool
) -> None:
    desk.goto(live.assess())
    with desk.expect_response(lambda answer: answer.url.endswith("/assess")):
        desk.fill("#f-observed_at-time", wall)
        desk.dispatch_event("#f-observed_at-time", "change")
    desk.wait_for_timeout(100)
    assert ("late entry" in desk.inner_text("#observed-said")) is late


def test_a_gas_is_typed_from_its_slip_with_keys_alone(desk: Page, live: LiveWard) -> None:
    desk.goto(live.assess(kind="?kind=gas"))
    keys = Keys(desk)
    assert keys.at == "gas_specimen"
    keys("a", key="")
    keys("735")
    expect(desk.locator("#says-ph")).to_contain_text("is 7.35 meant?")
    keys("y", key="")
    keys("44")
    keys("68")
    desk.wait_for_url(lambda address: "/assess" not in address)
    assert keys.pressed <= 12
    assert "7.35" in desk.inner_text("main")


def test_the_identity_takes_at_most_4_keys(browser: Browser, sqlite: Sqlite) -> None:
    context = browser.new_context()
    page = context.new_page()
    with live_ward(sqlite, Clock(EVENING), identity_digits=2) as live:
        sign_in(page, live)
        page.goto(live.assess())
        keys = Keys(page)
        assert keys.at == "identity"
        keys("86")
        assert keys.at == "heart_rate"
    assert keys.pressed <= 4
    context.close()


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_a_phone_brings_the_number_pad_and_targets_for_a_finger(
    browser: Browser, live: LiveWard, theme: str
) -> None:
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True, color_scheme=theme
    )
    page = context.new_page()
    sign_in(page, live)
    page.goto(live.assess())
    pads = page.eval_on_selector_all(
        ".field input.is-number", "inputs => inputs.map(each => [each.name, each.inputMode])"
    )
    assert {mode for name, mode in pads if name not in BELOW_ZERO} == {"decimal"}
    assert not page.evaluate(SMALL_TARGETS), "a finger needs 44 px"
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert page.evaluate("document.activeElement.tagName") == "BODY"
    page.tap("#f-spo2")
    page.keyboard.type("94")
    page.tap("label:has([name=keep][value=peep_set])")
    assert page.is_checked("[name=keep][value=peep_set]")
    context.close()


BELOW_ZERO = {
    "rass",
    "rass_target",
    "trigger_pressure_set",
    "mip_cmh2o",
    "base_excess",
    "tip_above_carina_cm",
}
"""What may be negative: a number pad has no minus sign on some phones."""
