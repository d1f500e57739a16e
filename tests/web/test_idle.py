"""When a page locks, told with every answer; staying, and asking, which is not staying."""

from datetime import datetime, timedelta

import pytest

from app.pages.times import iso
from tests.client import Answer, Browser, filled_in
from tests.clock import Clock
from tests.site import PASSWORD


@pytest.fixture
def ash(plain_browser: Browser) -> Browser:
    """Ash, signed in."""
    plain_browser.sign_in("ash", PASSWORD, follow=False)
    return plain_browser


def in_minutes(clock: Clock, minutes: float, since: datetime | None = None) -> str:
    return iso((since or clock.now) + timedelta(minutes=minutes))


def on_page(answer: Answer) -> str:
    return next(answer.page.root.all("html"))["data-locks-at"]


def told(answer: Answer) -> str:
    return answer.headers["x-locks-at"]


def form_of(browser: Browser) -> dict:
    return filled_in(browser.get("/no-such-page").page.form("/still-here"))


def test_a_page_locks_fifteen_minutes_after_what_somebody_did(ash: Browser, clock: Clock):
    assert told(ash.get("/probe")) == in_minutes(clock, 15)


@pytest.mark.parametrize(("seconds", "is_moved"), [(59, False), (60, True), (300, True)])
def test_the_moment_moves_only_with_a_touch_that_is_noted(
    ash: Browser, clock: Clock, seconds: int, is_moved: bool
):
    signed_in_at = clock.now
    clock.forward(seconds=seconds)
    since = clock.now if is_moved else signed_in_at
    assert told(ash.get("/probe")) == in_minutes(clock, 15, since)


def test_the_page_and_its_answer_tell_the_same(ash: Browser):
    answer = ash.get("/no-such-page")
    assert on_page(answer) == told(answer)


def test_a_part_that_a_page_asks_for_by_itself_tells_the_moment_unmoved(ash: Browser, clock: Clock):
    signed_in_at = clock.now
    clock.forward(minutes=5)
    assert told(ash.part("/probe/rows")) == in_minutes(clock, 15, signed_in_at)


def test_what_ended_in_an_error_was_not_noted_and_says_so(ash: Browser, clock: Clock):
    signed_in_at = clock.now
    clock.forward(minutes=5)
    assert told(ash.get("/courses/nobody")) == in_minutes(clock, 15, signed_in_at)


def test_the_absolute_end_comes_before_the_idle_one(ash: Browser, clock: Clock):
    signed_in_at = clock.now
    for _ in range(13 * 6 - 1):
        clock.forward(minutes=10)
        ash.get("/probe")
    assert told(ash.get("/probe")) == iso(signed_in_at + timedelta(hours=13))


def test_nobody_signed_in_has_nothing_to_lock(plain_browser: Browser):
    answer = plain_browser.get("/sign-in")
    assert (on_page(answer), "x-locks-at" in answer.headers) == ("", False)
    assert "idle" not in {element["id"] for element in answer.page.root.all()}


def test_to_ask_is_not_to_stay(ash: Browser, clock: Clock):
    signed_in_at = clock.now
    for _ in range(14):
        clock.forward(minutes=1)
        answer = ash.get("/still-here")
        assert (answer.status, told(answer)) == (204, in_minutes(clock, 15, signed_in_at))
    clock.forward(minutes=1)
    assert ash.get("/still-here", follow=False).status == 303


def test_to_stay_is_noted_and_told_to_the_script(ash: Browser, clock: Clock):
    form = form_of(ash)
    for _ in range(4):
        clock.forward(minutes=14)
        answer = ash.post("/still-here", form, Sec_Fetch_Mode="cors", Sec_Fetch_Site="same-origin")
        assert (answer.status, told(answer)) == (204, in_minutes(clock, 15))
    assert ash.get("/probe").status == 200


def test_without_a_script_staying_leads_back_to_the_page(ash: Browser):
    ash.get("/no-such-page?kind=gas")
    assert str(ash.submit("/still-here").response.url).endswith("/no-such-page?kind=gas")


def test_staying_leads_to_no_other_site(ash: Browser):
    form = {**form_of(ash), "next": ["https://elsewhere.example/"]}
    assert ash.post("/still-here", form, follow=False).headers["location"] == "/"


def test_a_page_without_scripts_says_when_the_sign_in_ends(ash: Browser):
    words = ash.get("/no-such-page").page.text
    assert "Without scripts nothing warns before your sign-in ends, 15 minutes after" in words


@pytest.mark.parametrize("path", ["/no-such-page", "/no-such-page?kind=gas"])
def test_a_change_of_light_leads_back_to_the_same_page(ash: Browser, path: str):
    ash.get(path)
    assert str(ash.submit("/theme", press="night").response.url).endswith(path)


def test_a_page_that_a_form_led_to_is_opened_anew_where_it_has_an_address(plain_browser: Browser):
    plain_browser.get("/sign-in")
    refused = plain_browser.submit("/sign-in", sign_in_name="ash", password="wrong")
    assert filled_in(refused.page.form("/theme"))["next"] == ["/sign-in"]


def test_a_page_that_only_a_form_leads_to_leads_back_to_the_start(ash: Browser):
    answer = ash.post("/theme", {})
    assert (answer.status, filled_in(answer.page.form("/theme"))["next"]) == (403, ["/"])
