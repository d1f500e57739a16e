"""A therapist begins with their own beds: what is due in two hours, and their flags in words."""

from datetime import timedelta

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import chart
from tests.shifts.handing import said
from tests.site import PASSWORD
from tests.ward import Ward

STIFF = {"plateau_pressure_obs": "34", "peak_inspiratory_pressure_obs": "40"}


def lines(answer: Answer) -> list[str]:
    return [e.text for e in answer.page.root.all("li") if "due-" in e["class"]]


def test_a_therapist_begins_with_their_own_beds_and_a_lead_with_the_board(browser: Browser) -> None:
    assert browser.sign_in("birch", PASSWORD).path == "/mine"
    assert browser.another().sign_in("cedar", PASSWORD).path == "/"


def test_who_was_on_the_way_somewhere_gets_there(browser: Browser) -> None:
    browser.get("/handoffs")
    browser.get("/handoffs")
    went_on = browser.submit("/sign-in", sign_in_name="birch", password=PASSWORD)
    assert went_on.path == "/handoffs"


def test_without_a_bed_it_says_how_one_comes(ash: Browser) -> None:
    page = ash.get("/mine")
    assert "No bed is yours now" in page.page.text
    assert "accept its handoff" in page.page.text


def test_a_bed_that_was_taken_stands_here_with_its_flag_and_what_is_due(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    chart(ash, ward, "L3", **STIFF)
    said(ash, ward, "L3", "take", "Mine tonight")
    page = ash.get("/mine")
    assert "Driving pressure 22, over 15" in page.page.text
    assert "1 bed, 1 with a flag, nothing overdue" in page.page.text
    again = [told for told in lines(page) if "read again: Plateau pressure" in told]
    assert len(again) == 2  # once in the order of time, once at its bed
    clock.now += timedelta(minutes=60)
    ash.sign_in("ash", PASSWORD)
    assert any("overdue" in told for told in lines(ash.get("/mine")))


def test_the_rows_are_sent_anew_only_when_they_would_look_different(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    chart(ash, ward, "L3", **STIFF)
    said(ash, ward, "L3", "take", "Mine tonight")
    page = ash.get("/mine")
    rows = next(e["hx-get"] for e in page.page.root.all("div") if e["id"] == "mine")
    assert ash.part(rows).status == 304
    clock.now += timedelta(minutes=46)
    ash.sign_in("ash", PASSWORD)
    assert ash.part(rows).status == 200


def test_somebody_elses_bed_is_not_here(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, "L3")
    said(ash, ward, "L3", "take", "Mine tonight")
    birch = ash.another()
    birch.sign_in("birch", PASSWORD)
    assert "No bed is yours now" in birch.get("/mine").page.text
