"""Inhaled treatments over HTTP: ordered, due, given with what came of it, stopped."""

from datetime import timedelta

import pytest

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.site import PASSWORD
from tests.ward import Ward, facts_of

ORDER = {
    "treatment_drug": "salbutamol",
    "treatment_dose": "2.5 mg",
    "treatment_route": "nebuliser",
    "treatment_interval_h": "4",
    "ordered_by": "Dr Oak",
}


@pytest.fixture
def page(ward: Ward) -> str:
    """The treatments of P-01 in L3; the clock stands at 19:30."""
    return f"/courses/{ward.courses['L3']}/treatments"


@pytest.fixture
def treatments(database, ward: Ward):
    return lambda: facts_of(database, ward).treatments


def order(browser: Browser, page: str, **changed: str) -> Answer:
    browser.get(page)
    return browser.submit(page, **{**ORDER, **changed})


def give(browser: Browser, page: str, treatment: str, **typed: str) -> Answer:
    browser.get(f"{page}?give={treatment}")
    return browser.submit(page, **typed)


def stop(browser: Browser, page: str, treatment: str, **typed: str) -> Answer:
    browser.get(f"{page}?stop={treatment}")
    return browser.submit(page, **{"ordered_by": "Dr Oak", **typed})


def test_an_order_stands_on_bed_page_and_handoff_and_is_due_from_then_on(
    ash: Browser, page: str, bed: str
):
    order(ash, page)
    for path in ("", "/handoff"):
        text = ash.get(f"{bed}{path}").text
        assert "salbutamol 2.5 mg, nebuliser, every 4 h" in text
        assert "ordered by Dr Oak, 19:30; not given yet; next due 19:30" in text
    due = [line.text for line in ash.get(bed).page.root.all("li") if "salbutamol" in line.text]
    assert any("19:30" in line for line in due)


def test_what_came_of_it_stands_with_who_gave_it_and_the_next_time(
    ash: Browser, page: str, bed: str, clock: Clock, treatments
):
    order(ash, page)
    clock.forward(minutes=10)
    give(
        ash,
        page,
        treatments()[0].id,
        treatment_before="wheeze",
        treatment_after="clear",
        treatment_response="peak 32 to 26",
    )
    text = ash.get(bed).text
    assert "19:40 Ash: given: before: wheeze; after: clear; peak 32 to 26" in text
    assert "next due 23:40" in text


def test_a_treatment_is_late_and_overdue_as_the_unit_set_it(
    ash: Browser, page: str, bed: str, clock: Clock
):
    order(ash, page)
    clock.forward(minutes=119)
    ash.sign_in("ash", PASSWORD)
    assert "overdue" not in next_list(ash.get(bed))
    clock.forward(minutes=1)
    assert "overdue" in next_list(ash.get(bed))


def next_list(bed: Answer) -> str:
    (section,) = [e for e in bed.page.root.all("ul") if e["class"] == "next-list"]
    return " ".join(line.text for line in section.all("li") if "salbutamol" in line.text)


def test_it_is_due_among_the_beds_of_whoever_has_them(
    ash: Browser, page: str, bed: str, clock: Clock
):
    order(ash, page)
    ash.get(f"{bed}/handoff")
    ash.submit(f"{bed}/handoff/take", words="has nobody")
    assert "salbutamol 2.5 mg, nebuliser" in ash.get("/mine").text


def test_while_the_patient_is_away_it_is_paused_and_due_at_the_return(
    ash: Browser, page: str, bed: str, clock: Clock
):
    order(ash, page, treatment_interval_h="1")
    ash.get(f"{bed}/events")
    ash.submit(f"{bed}/events", kind="away", words="CT")
    clock.forward(minutes=50)
    ash.sign_in("ash", PASSWORD)
    assert "paused" in next_list(ash.get(bed))
    ash.get(f"{bed}/events")
    ash.submit(f"{bed}/events", kind="end.away")
    assert "20:20" in next_list(ash.get(bed))


def test_as_needed_stands_on_the_page_and_is_never_due(ash: Browser, page: str, bed: str):
    order(ash, page, treatment_interval_h="", treatment_as_needed="yes")
    answer = ash.get(bed)
    assert "salbutamol 2.5 mg, nebuliser, as needed" in answer.text
    assert next_list(answer) == ""


def test_not_given_says_why_and_moves_on(
    ash: Browser, page: str, bed: str, clock: Clock, treatments
):
    order(ash, page)
    clock.forward(minutes=10)
    give(ash, page, treatments()[0].id, treatment_not_given="fast heart rate")
    text = ash.get(bed).text
    assert "19:40 Ash: not given: fast heart rate" in text
    assert "next due 23:40" in text


def test_a_stopped_treatment_is_due_no_more_and_cannot_be_given(
    ash: Browser, page: str, bed: str, clock: Clock, treatments
):
    order(ash, page)
    treatment = treatments()[0].id
    ash.get(f"{page}?give={treatment}")
    form = ash.last
    clock.forward(minutes=10)
    stopped = stop(ash, page, treatment, why="no wheeze")
    assert "Stopped: salbutamol 2.5 mg, nebuliser" in stopped.text
    assert "salbutamol" not in next_list(ash.get(bed))
    ash.last = form
    late = ash.submit(page, observed_at="2026-11-25T19:40")
    assert (late.status, "had been stopped by then" in late.text) == (422, True)
    ash.last = form
    earlier = ash.submit(page, observed_at="2026-11-25T19:35", save_key="other")
    assert "19:35" in earlier.text
    assert treatments()[0].given[0].at == clock.now - timedelta(minutes=5)


def test_nothing_is_given_before_it_was_ordered(ash: Browser, page: str, treatments):
    order(ash, page)
    answer = give(ash, page, treatments()[0].id, observed_at="2026-11-25T19:00")
    assert (answer.status, "had not been ordered by then" in answer.text) == (422, True)


def test_a_treatment_is_stopped_once_and_not_before_it_was_given(
    ash: Browser, page: str, clock: Clock, treatments
):
    order(ash, page)
    treatment = treatments()[0].id
    clock.forward(minutes=10)
    give(ash, page, treatment)
    early = stop(ash, page, treatment, observed_at="2026-11-25T19:35")
    assert "was given after that time" in early.text
    ash.get(f"{page}?stop={treatment}")
    form = ash.last
    clock.forward(minutes=1)
    stop(ash, page, treatment)
    ash.last = form
    again = ash.submit(page, ordered_by="Dr Oak", save_key="other")
    assert (again.status, "stopped already" in again.text) == (422, True)


def test_what_is_missing_of_an_order_is_said_and_every_word_stays(
    ash: Browser, page: str, treatments
):
    answer = order(ash, page, treatment_route="")
    assert (answer.status, "by which route" in answer.text) == (422, True)
    assert "2.5 mg" in answer.text
    assert "still to come" in order(ash, page, observed_at="2026-11-25T20:30").text
    assert not treatments()


def test_a_form_sent_twice_is_one_order(ash: Browser, page: str, treatments):
    ash.get(page)
    form = ash.last
    ash.submit(page, **ORDER)
    ash.last = form
    ash.submit(page, **ORDER)
    assert len(treatments()) == 1


def test_a_treatment_of_nobody_is_not_found(ash: Browser, page: str):
    ash.get(page)
    token = next(e["value"] for e in ash.last.page.root.all("input") if e["name"] == "csrf")
    course = page.split("/")[2]
    typed = {"csrf": token, "course": course, "act": "give", "treatment": "nothing"}
    assert ash.post(page, typed).status == 404


def test_who_reads_sees_the_treatments_and_no_form(browser: Browser, page: str):
    browser.sign_in("oak", PASSWORD)
    answer = browser.get(page)
    assert "No inhaled treatment is ordered." in answer.text
    assert 'id="fill"' not in answer.text
    assert browser.post(page, {"csrf": "0"}).status == 403
