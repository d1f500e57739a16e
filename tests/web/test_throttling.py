"""Guessing gets slow; a shift that signs in does not."""

import pytest

from tests.client import Browser
from tests.clock import Clock
from tests.site import PASSWORD, hire


def fail(browser: Browser, times: int, name: str = "ash") -> list[int]:
    return [browser.sign_in(name, "wrong").status for _ in range(times)]


def test_the_fifth_failure_makes_the_next_try_wait(browser: Browser, clock: Clock):
    assert fail(browser, 6) == [401] * 5 + [429]
    assert browser.last.headers["retry-after"] == "1"
    assert browser.sign_in("ash", PASSWORD).status == 429
    clock.forward(seconds=1)
    assert browser.sign_in("ash", PASSWORD, follow=False).status == 303


def test_waits_grow_and_end_at_a_minute(browser: Browser, clock: Clock):
    fail(browser, 4)
    waits = []
    for _ in range(8):
        fail(browser, 1)
        browser.sign_in("ash", PASSWORD)
        waits.append(int(browser.last.headers["retry-after"]))
        clock.forward(seconds=waits[-1])
    assert waits == [1, 2, 4, 8, 16, 32, 60, 60]


def test_a_try_that_had_to_wait_makes_no_wait_longer(browser: Browser, clock: Clock):
    fail(browser, 5)
    assert fail(browser, 10) == [429] * 10
    clock.forward(seconds=1)
    assert browser.sign_in("ash", PASSWORD, follow=False).status == 303


def test_one_name_guessed_does_not_slow_the_next_person_at_that_screen(
    browser: Browser, database, clock: Clock
):
    hire(database, clock, "birch")
    fail(browser, 6)
    assert browser.sign_in("birch", PASSWORD, follow=False).status == 303


def test_guesses_from_elsewhere_do_not_slow_the_owner_at_once(browser: Browser):
    fail(browser.another("203.0.113.9"), 6)
    assert browser.sign_in("ash", PASSWORD, follow=False).status == 303


def test_many_addresses_do_not_buy_many_guesses(plain_browser: Browser):
    tries = [fail(plain_browser.another(f"203.0.113.{n}"), 1)[0] for n in range(22)]
    assert tries == [401] * 21 + [429]


def test_many_names_from_one_address_are_slowed(plain_browser: Browser, clock: Clock):
    tries = [fail(plain_browser, 1, f"name{n}")[0] for n in range(62)]
    assert tries == [401] * 61 + [429]


def test_sixty_right_sign_ins_from_one_address_pass(plain_browser: Browser, sqlite_database, clock):
    names = [f"person{n}" for n in range(60)]
    for name in names:
        hire(sqlite_database, clock, name)
    answers = [
        plain_browser.another("10.9.9.9").sign_in(name, PASSWORD, follow=False) for name in names
    ]
    assert {answer.status for answer in answers} == {303}


@pytest.mark.parametrize(("minutes", "status"), [(14, 429), (15, 401)])
def test_failures_are_forgotten_after_a_quarter_of_an_hour(
    browser: Browser, clock: Clock, minutes: int, status: int
):
    fail(browser, 4)
    clock.forward(minutes=minutes)
    assert fail(browser, 2) == [401, status]


def test_a_right_password_clears_the_failures_of_that_name_there(plain_browser: Browser):
    fail(plain_browser, 4)
    plain_browser.another("10.1.1.1").sign_in("ash", PASSWORD, follow=False)
    assert fail(plain_browser, 5) == [401] * 5


def test_an_unknown_name_waits_like_a_known_one(browser: Browser):
    assert fail(browser, 6, "nobody") == [401] * 5 + [429]
