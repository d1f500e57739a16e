"""Support is withdrawn: limits, flags and due times are muted with the reason, and come back."""

import pytest

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN, chart
from tests.shifts.handing import page_of
from tests.site import PASSWORD
from tests.ward import Ward


@pytest.fixture
def page(ward: Ward) -> str:
    """Address of the quiet view of P-01 in L3."""
    return f"/courses/{ward.courses['L3']}/quiet"


def begin(browser: Browser, page: str, **typed: str) -> Answer:
    browser.get(page)
    return browser.submit(page, **{"ordered_by": "Dr Oak", "words": "family present", **typed})


def too_high(browser: Browser, ward: Ward, clock: Clock) -> None:
    """Two plateaus over the limit, soon after each other."""
    for heart_rate in ("88", "91"):
        clock.forward(minutes=8)
        chart(
            browser,
            ward,
            "L3",
            plateau_pressure_obs="32",
            peak_inspiratory_pressure_obs="36",
            heart_rate=heart_rate,
        )


WORDS = "Support withdrawn, comfort: ordered by Dr Oak; family present"


def row_of(board: Answer, bed: str) -> str:
    return next(row.text for row in board.page.root.all("tr") if bed in row.text.split())


def test_a_muted_bed_says_since_when_and_by_whose_order_and_never_that_no_flag_is_raised(
    ash: Browser, page: str, clock: Clock, ward: Ward
):
    too_high(ash, ward, clock)
    assert "over 30" in row_of(ash.get("/"), "L3")
    clock.forward(minutes=5)
    bed = begin(ash, page)
    for seen in (bed, ash.get("/scan"), ash.get(page_of(ward, "L3"))):
        assert f"Quiet since 19:51. {WORDS}" in seen.text
    row = row_of(ash.get("/"), "L3")
    assert WORDS in row
    assert "quiet since 19:51" in row
    assert "No flag raised" not in row
    assert "over 30" not in row
    clock.forward(hours=9)
    ash.sign_in("ash", PASSWORD)
    later = row_of(ash.get("/"), "L3")
    assert "overdue" not in later
    assert "What is due is muted" in ash.get(f"/courses/{ward.courses['L3']}").text


def test_charting_goes_on_and_limits_count_again_after_the_end(
    ash: Browser, page: str, clock: Clock, ward: Ward
):
    begin(ash, page)
    too_high(ash, ward, clock)
    assert "over 30" not in row_of(ash.get("/"), "L3")
    clock.forward(minutes=5)
    ended = begin(ash, page, words="plan changed")
    assert "Quiet since" not in ended.text
    assert "over 30" in row_of(ash.get("/"), "L3")


def test_what_was_due_meanwhile_is_due_at_the_end(
    ash: Browser, page: str, clock: Clock, ward: Ward
):
    chart(ash, ward, "L3")
    clock.forward(minutes=5)
    begin(ash, page)
    clock.forward(hours=9)
    ash.sign_in("ash", PASSWORD)
    ended = begin(ash, page, words="plan changed")
    assert "Check overdue" not in ended.text


def test_numbers_trends_and_a_form_in_hand_are_judged_by_nothing_while_it_lasts(
    ash: Browser, page: str, clock: Clock, ward: Ward
):
    too_high(ash, ward, clock)
    course = f"/courses/{ward.courses['L3']}"
    number, trends = f"{course}/numbers/plateau_pressure_obs", f"{course}/trends"
    typed = {**PLAIN, "plateau_pressure_obs": "32", "peak_inspiratory_pressure_obs": "36"}
    assert "more than once in a row" in ash.get(number).text
    assert "over 30" in ash.get(trends).text
    assert "over 15" in live(ash, f"{course}/assess", typed)
    clock.forward(minutes=5)
    begin(ash, page)
    opened = ash.get(number).page.text
    assert "Quiet since 19:51: limits are muted" in opened
    assert "over 30" not in opened
    assert "over 30" not in ash.get(trends).page.text
    assert "over 15" not in live(ash, f"{course}/assess", typed)


def live(browser: Browser, form: str, typed: dict[str, str]) -> str:
    """What the form says while it is typed."""
    inputs = browser.get(form).page.root.all("input")
    token = next(each["value"] for each in inputs if each["name"] == "csrf")
    return browser.post(f"{form}/live", {"csrf": token, "kind": "full", **typed}).text


IMPOSSIBLE = (
    ({"ordered_by": " "}, "Write who ordered it"),
    ({"words": "x" * 140}, "it takes 140"),
    ({"observed_at": "2026-11-25T20:30"}, "still to come"),
)


def test_what_cannot_be_is_refused_in_words(ash: Browser, page: str):
    for typed, words in IMPOSSIBLE:
        answer = begin(ash, page, **typed)
        assert (answer.status, words in answer.text) == (422, True), words


def test_it_is_not_begun_from_the_list_of_events(ash: Browser, page: str, ward: Ward):
    events = page.replace("quiet", "events")
    assert "Support withdrawn" not in ash.get(events).text
    assert "on a page of its own" in ash.submit(events, kind="comfort").text


def test_who_may_not_place_mutes_nothing(browser: Browser, page: str):
    browser.sign_in("oak", PASSWORD)
    assert 'id="fill"' not in browser.get(page).text
    assert browser.post(page, {"csrf": "0", "act": "begin"}).status == 403
