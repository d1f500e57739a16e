"""A form that changes something has to come from a page of this session."""

import pytest

from tests.client import Browser, filled_in
from tests.clock import Clock
from tests.site import PASSWORD, hire


@pytest.fixture
def ash(plain_browser: Browser) -> Browser:
    """Ash, signed in, with a page in front."""
    plain_browser.sign_in("ash", PASSWORD, follow=False)
    plain_browser.get("/no-such-page")
    return plain_browser


def token(browser: Browser) -> str:
    return filled_in(browser.last.page.form("/theme"))["csrf"][0]


def test_the_pages_own_token_is_taken_from_a_field_or_a_header(ash: Browser):
    csrf = token(ash)
    assert ash.post("/probe", {"csrf": csrf}).status == 200
    assert ash.post("/probe", {}, X_CSRF_Token=csrf).status == 200


@pytest.mark.parametrize("sent", [{}, {"csrf": ""}, {"csrf": "0" * 64}, {"csrf": "é"}])
def test_a_missing_or_wrong_token_is_refused(ash: Browser, sent: dict[str, str]):
    answer = ash.post("/probe", sent)
    assert (answer.status, answer.page.heading) == (403, "Not saved")


def test_what_was_typed_stays_in_sight_when_a_form_is_refused(ash: Browser):
    typed = {
        "plateau_pressure_obs": "24",
        "words": "<b>watch</b>",
        "csrf": "old",
        "save_key": "k-1",
    }
    answer = ash.post("/probe", typed)
    assert "Plateau pressure 24" in answer.page.text
    assert "Words <b>watch</b>" in answer.page.text
    assert "k-1" not in answer.text


def test_the_token_of_somebody_elses_session_is_refused(
    ash: Browser, sqlite_database, clock: Clock
):
    hire(sqlite_database, clock, "birch")
    birch = ash.another()
    birch.sign_in("birch", PASSWORD, follow=False)
    birch.get("/no-such-page")
    assert ash.post("/probe", {"csrf": token(birch)}).status == 403


def test_a_token_from_before_the_sign_in_is_refused_after_it(plain_browser: Browser):
    plain_browser.get("/sign-in")
    before = token(plain_browser)
    plain_browser.sign_in("ash", PASSWORD, follow=False)
    assert plain_browser.post("/probe", {"csrf": before}).status == 403


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"Sec_Fetch_Site": "same-origin"}, 200),
        ({"Sec_Fetch_Site": "none"}, 200),
        ({"Sec_Fetch_Site": "same-site"}, 403),
        ({"Sec_Fetch_Site": "cross-site"}, 403),
        ({"Origin": "http://127.0.0.1"}, 200),
        ({"Origin": "null"}, 200),
        ({"Origin": "http://elsewhere.example"}, 403),
        ({"Origin": "http://elsewhere.example", "Sec_Fetch_Site": "same-origin"}, 200),
        ({}, 200),
    ],
)
def test_another_site_is_refused_even_with_the_right_token(
    ash: Browser, headers: dict[str, str], status: int
):
    assert ash.post("/probe", {"csrf": token(ash)}, **headers).status == status


def test_the_sign_in_form_needs_the_cookie_that_came_with_it(plain_browser: Browser):
    plain_browser.get("/sign-in")
    csrf = token(plain_browser)
    typed = {"sign_in_name": "ash", "password": PASSWORD, "csrf": csrf}
    assert plain_browser.another().post("/sign-in", typed).status == 403
    assert plain_browser.post("/sign-in", {**typed, "csrf": ""}).status == 403
    assert plain_browser.post("/sign-in", typed, follow=False).status == 303


def test_an_empty_form_cookie_proves_nothing(plain_browser: Browser):
    plain_browser.cookies.set("leeboard-form", "", domain="127.0.0.1")
    assert plain_browser.post("/theme", {"theme": "night", "csrf": ""}).status == 403
