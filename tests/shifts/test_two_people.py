"""Two people, one bed: every difference is shown, somebody decides, nothing typed is lost."""

from decimal import Decimal

import pytest

from app.record.database import Database
from tests.client import Answer, Browser, filled_in
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.ward import Ward, facts_of

BED = "L5"


@pytest.fixture
def action(ward: Ward) -> str:
    """Where a check of the bed is saved."""
    return f"/courses/{ward.courses[BED]}/assess"


@pytest.fixture
def both_open(ash: Browser, birch: Browser, action: str) -> tuple[Browser, Browser]:
    """Both have the form of one bed open, at the same version of its chart."""
    ash.get(action)
    birch.get(action)
    return ash, birch


def send(browser: Browser, action: str, **typed: str | list[str]) -> Answer:
    """Send the form in front, and once more with a yes to whatever is only asked."""
    return with_every_answer(browser, action, browser.submit(action, **typed))


def with_every_answer(browser: Browser, action: str, answer: Answer) -> Answer:
    """The answer to a yes to every question, where there was one."""
    if answer.status == 422:
        ticks = answer.page.root.all("input")
        keys = [tick["value"] for tick in ticks if tick["name"] == "accept"]
        if not keys:
            return answer
        answer = browser.post(action, {**filled_in(answer.page.form(action)), "accept": keys})
    return answer


def rows(database: Database, ward: Ward):
    return facts_of(database, ward, BED).assessments


def choose(browser: Browser, action: str, *choices: str) -> Answer:
    """Decide each difference on the page in front, in its order."""
    assert browser.last is not None
    names = list(
        dict.fromkeys(
            radio["name"]
            for radio in browser.last.page.form(action).all("input")
            if radio["type"] == "radio"
        )
    )
    answer = browser.submit(action, **dict(zip(names, choices, strict=True)))
    return with_every_answer(browser, action, answer)


ASHS = {"mode_family": "ac_vc", "peep_set": "12"}
BIRCHS = {"mode_family": "ac_vc", "peep_set": "10", "resp_rate_obs": "24"}


def test_the_second_to_save_sees_both_values_of_the_field_and_what_is_free(
    both_open: tuple[Browser, Browser], action: str, ward: Ward, database: Database
) -> None:
    ash, birch = both_open
    send(ash, action, **ASHS)
    page = send(birch, action, **BIRCHS)
    assert page.status == 409
    assert "Ash charted this bed since you opened the form" in page.page.text
    (decision,) = page.page.root.all("fieldset")
    assert "12 cmH2O Ash, 19:30" in decision.text
    assert "10 cmH2O" in decision.text
    assert "Nobody says otherwise of: " in page.page.text
    assert "24" in page.page.text.partition("Nobody says otherwise of: ")[2]
    assert len(rows(database, ward)) == 1


def test_mine_is_kept_as_a_new_observation_and_both_stand(
    both_open: tuple[Browser, Browser], action: str, ward: Ward, database: Database
) -> None:
    ash, birch = both_open
    send(ash, action, **ASHS)
    send(birch, action, **BIRCHS)
    saved = choose(birch, action, "mine")
    assert saved.path == f"/courses/{ward.courses[BED]}"
    first, second = rows(database, ward)
    told = [(row.author, row.readings["peep_set"].number) for row in (first, second)]
    assert told == [("Ash", Decimal(12)), ("Birch", Decimal(10))]


def test_theirs_leaves_mine_out_and_saves_the_rest(
    both_open: tuple[Browser, Browser], action: str, ward: Ward, database: Database
) -> None:
    ash, birch = both_open
    send(ash, action, **ASHS)
    send(birch, action, **BIRCHS)
    choose(birch, action, "theirs")
    _, second = rows(database, ward)
    assert second.author == "Birch"
    assert {code: r.number for code, r in second.readings.items()} == {"resp_rate_obs": 24}


def test_a_page_without_a_choice_asks_again(
    both_open: tuple[Browser, Browser], action: str, ward: Ward, database: Database
) -> None:
    ash, birch = both_open
    send(ash, action, **ASHS)
    send(birch, action, **BIRCHS)
    assert birch.submit(action).status == 409
    assert len(rows(database, ward)) == 1


def test_the_way_back_to_the_form_keeps_every_word(
    both_open: tuple[Browser, Browser], action: str
) -> None:
    ash, birch = both_open
    send(ash, action, **ASHS)
    typed = {**BIRCHS, "spo2": "9O", "reason.plateau_pressure_obs": "effort"}
    held = birch.submit(action, **typed)
    assert held.status == 422
    send(birch, action, spo2="90")
    form = birch.submit(action, press="form").page.form(action)
    stands = filled_in(form)
    for name, text in {**typed, "spo2": "90"}.items():
        assert stands[name] == [text]


def test_what_came_after_the_choice_is_asked_about_by_itself(
    both_open: tuple[Browser, Browser], action: str, clock: Clock
) -> None:
    ash, birch = both_open
    send(ash, action, **ASHS)
    send(birch, action, **BIRCHS)
    clock.forward(minutes=1)
    ash.get(action)
    send(ash, action, **{**ASHS, "peep_set": "14"})
    page = choose(birch, action, "mine")
    (decision,) = page.page.root.all("fieldset")
    assert (page.status, "14 cmH2O" in decision.text) == (409, True)


def test_equal_and_different_fields_are_saved_without_a_word(
    both_open: tuple[Browser, Browser], action: str, ward: Ward, database: Database
) -> None:
    ash, birch = both_open
    send(ash, action, **ASHS)
    saved = send(birch, action, **{**BIRCHS, "peep_set": "12.0"})
    assert saved.path == f"/courses/{ward.courses[BED]}"
    assert [row.author for row in rows(database, ward)] == ["Ash", "Birch"]


def test_a_blank_writes_over_nothing(
    both_open: tuple[Browser, Browser], action: str, ward: Ward, database: Database
) -> None:
    ash, birch = both_open
    send(ash, action, **PLAIN)
    send(birch, action, mode_family="ac_vc", temp_c="37.2")
    _, second = rows(database, ward)
    assert set(second.readings) == {"temp_c"}


def test_a_hold_is_asked_about_as_one(
    both_open: tuple[Browser, Browser], action: str, ward: Ward, database: Database
) -> None:
    ash, birch = both_open
    send(ash, action, **PLAIN)
    page = send(birch, action, **{**PLAIN, "plateau_pressure_obs": "24"})
    (decision,) = page.page.root.all("fieldset")
    for words in ("The hold", "24 cmH2O", "26 cmH2O", "420 mL"):
        assert words in decision.text
    choose(birch, action, "theirs")
    _, second = rows(database, ward)
    held = {"plateau_pressure_obs", "hold_passive", "tidal_volume_obs", "peep_total", "peep_set"}
    assert not held & set(second.readings)


def test_another_mode_asks_before_anything_is_saved(
    both_open: tuple[Browser, Browser], action: str, ward: Ward, database: Database
) -> None:
    ash, birch = both_open
    send(ash, action, mode_family="csv_ps", pressure_support_set="10")
    page = send(birch, action, mode_family="ac_vc", spo2="94")
    assert page.status == 409
    assert "Pressure support" in page.page.text
    choose(birch, action, "theirs")
    assert [row.mode_family for row in rows(database, ward)] == ["csv_ps", "csv_ps"]


def test_a_turn_asks_before_anything_is_saved(
    ash: Browser, birch: Browser, action: str, ward: Ward, database: Database, clock: Clock
) -> None:
    ash.get(action)
    send(ash, action, mode_family="ac_vc", position="supine")
    clock.forward(minutes=2)
    birch.get(action)
    ash.get(action)
    send(ash, action, mode_family="ac_vc", position="prone")
    page = send(birch, action, mode_family="ac_vc", spo2="94")
    assert "Changed since you opened the form" in page.page.text
    assert "Prone" in page.page.text
    choose(birch, action, "mine")
    assert len(rows(database, ward)) == 3


def test_a_row_that_was_there_when_the_form_was_opened_asks_nothing(
    ash: Browser, birch: Browser, action: str, ward: Ward, database: Database
) -> None:
    ash.get(action)
    send(ash, action, **ASHS)
    birch.get(action)
    send(birch, action, **BIRCHS)
    assert len(rows(database, ward)) == 2


def test_a_form_that_does_not_say_when_it_was_opened_has_seen_nothing(
    ash: Browser, birch: Browser, action: str
) -> None:
    ash.get(action)
    send(ash, action, **ASHS)
    birch.get(action)
    assert birch.submit(action, opened="", **BIRCHS, spo2="94").status in (409, 422)
    assert send(birch, action).status == 409


def test_a_settled_form_sent_twice_makes_one_row(
    both_open: tuple[Browser, Browser], action: str, ward: Ward, database: Database
) -> None:
    ash, birch = both_open
    send(ash, action, **ASHS)
    page = send(birch, action, **BIRCHS)
    choose(birch, action, "mine")
    birch.last = page
    again = choose(birch, action, "mine")
    assert again.path == f"/courses/{ward.courses[BED]}"
    assert len(rows(database, ward)) == 2


def test_all_of_mine_left_out_says_that_theirs_stands(
    both_open: tuple[Browser, Browser], action: str, ward: Ward, database: Database
) -> None:
    ash, birch = both_open
    send(ash, action, **ASHS)
    send(birch, action, mode_family="ac_vc", peep_set="10")
    answer = choose(birch, action, "theirs")
    assert "All of yours was left out" in answer.page.text
    assert len(rows(database, ward)) == 1
