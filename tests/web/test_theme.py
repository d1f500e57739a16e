"""Day, night, or as the device: a cookie of this browser."""

import pytest

from tests.client import Browser, filled_in
from tests.site import PASSWORD


def theme_of(browser: Browser) -> str:
    page = browser.get("/sign-in" if "leeboard-session" not in browser.cookies else "/none").page
    return next(page.root.all("html"))["data-theme"]


@pytest.mark.parametrize(("choice", "expected"), [("day", "day"), ("night", "night"), ("auto", "")])
def test_a_choice_holds_for_the_pages_that_follow(
    plain_browser: Browser, choice: str, expected: str
):
    plain_browser.get("/sign-in")
    plain_browser.submit("/theme", press=choice, follow=False)
    assert theme_of(plain_browser) == expected


def test_a_choice_outlives_the_sign_in(plain_browser: Browser):
    plain_browser.get("/sign-in")
    plain_browser.submit("/theme", press="night", follow=False)
    plain_browser.sign_in("ash", PASSWORD, follow=False)
    assert theme_of(plain_browser) == "night"


def test_a_script_gets_no_page_back(plain_browser: Browser):
    plain_browser.get("/sign-in")
    csrf = filled_in(plain_browser.last.page.form("/theme"))["csrf"]
    answer = plain_browser.post("/theme", {"csrf": csrf, "theme": "night"}, Sec_Fetch_Mode="cors")
    assert (answer.status, plain_browser.cookies["leeboard-theme"]) == (204, "night")


def test_a_light_that_does_not_exist_is_refused(plain_browser: Browser):
    plain_browser.get("/sign-in")
    csrf = filled_in(plain_browser.last.page.form("/theme"))["csrf"]
    assert plain_browser.post("/theme", {"csrf": csrf, "theme": "neon"}).status == 400


def test_a_cookie_that_nobody_chose_is_ignored(plain_browser: Browser):
    plain_browser.cookies.set("leeboard-theme", '"><script>', domain="127.0.0.1")
    assert theme_of(plain_browser) == ""
