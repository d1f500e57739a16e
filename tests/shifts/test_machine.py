"""Machine, gear and orders beside the rounds: what is ready, which machine, which targets."""

import pytest

from app.actions.correct_reading import Correction, correct_reading
from app.charting.correcting import Retyped
from app.record.courses import course_facts
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.ward import Ward, facts_of


def send(browser: Browser, page: str, **typed: str) -> Answer:
    browser.get(page)
    return browser.submit(page.partition("?")[0], **typed)


def open_rules(database, course_id: str) -> list[str]:
    with database.reading() as session:
        tasks = course_facts(session, course_id).tasks
    return [task.rule for task in tasks if task.is_open]


def test_a_no_is_an_open_task_until_a_yes(
    ash: Browser, bed: str, database, clock: Clock, ward: Ward
):
    send(ash, f"{bed}/machine", safe_suction="no", safe_bag_mask="yes", pre_use_check="failed")
    assert open_rules(database, ward.courses["L3"]) == ["safe_suction", "pre_use_check"]
    assert "Not ready: Suction works (no)" in ash.get(f"{bed}/handoff").text
    clock.forward(minutes=5)
    check = f"{bed}/assess"
    ash.get(check)
    ash.submit(check, **PLAIN, safe_suction="yes")
    assert open_rules(database, ward.courses["L3"]) == ["pre_use_check"]


def test_a_no_that_was_corrected_to_yes_is_no_task_any_more(
    ash: Browser, bed: str, database, clock: Clock, ward: Ward
):
    send(ash, f"{bed}/machine", safe_suction="no")
    held = facts_of(database, ward).latest_readings()["safe_suction"]
    right = Correction(held.id, Retyped("yes"), "pressed the wrong one")
    with database.writing(clock, ward.staff["ash"]) as writing:
        correct_reading(writing, ward.courses["L3"], right)
    assert open_rules(database, ward.courses["L3"]) == []


def test_a_late_no_says_nothing_of_what_was_seen_since(
    ash: Browser, bed: str, database, ward: Ward
):
    send(ash, f"{bed}/machine", safe_oxygen="yes")
    send(ash, f"{bed}/machine", safe_oxygen="no", observed_at="2026-11-25T19:10")
    assert open_rules(database, ward.courses["L3"]) == []


def test_a_machine_at_another_patient_is_asked_about_before_it_is_written_here(
    ash: Browser, bed: str, database, clock: Clock, ward: Ward
):
    other = f"/courses/{ward.courses['L5']}"
    send(ash, f"{other}/machine", device_id="V-12")
    clock.forward(minutes=5)
    asked = send(ash, f"{bed}/machine", device_id="v-12", safe_suction="yes")
    assert asked.status == 422
    assert "Machine V-12 is charted at L5" in asked.text
    key = f"device_elsewhere:{ward.courses['L5']}"
    saved = ash.submit(f"{bed}/machine", accept=key)
    assert "Ventilator: v-12" in saved.text
    assert open_rules(database, ward.courses["L5"]) == ["device"]
    send(ash, f"{other}/machine", device_id="V-13")
    assert open_rules(database, ward.courses["L5"]) == []


def test_two_humidifiers_are_held_up_until_they_are_written_as_found(ash: Browser, bed: str):
    held = send(ash, f"{bed}/machine", humidifier="hme_with_heated_found")
    assert held.status == 422
    assert "a wet HME blocks" in held.text
    assert "As found" in held.text


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"spo2_band": "88-92"}, "Say who ordered it"),
        ({"ordered_by": "Dr Oak"}, "at least one target"),
        ({"ordered_by": "Dr Oak", "ph_target_low": "7.30"}, "pH: write both ends"),
        (
            {"ordered_by": "Dr Oak", "paco2_target_low": "50", "paco2_target_high": "50"},
            "PaCO2: the lower end",
        ),
        (
            {"ordered_by": "Dr Oak", "spo2_band": "88-92", "spo2_target_low": "90"},
            "choose a band or type your own",
        ),
        (
            {"ordered_by": "Dr Oak", "spo2_band": "88-92", "observed_at": "2026-11-25T20:30"},
            "still to come",
        ),
    ],
)
def test_an_order_that_cannot_be_is_refused_in_words(ash: Browser, bed: str, typed, words):
    answer = send(ash, f"{bed}/targets", **typed)
    assert answer.status == 422
    assert words in answer.text


def test_the_newest_order_holds_and_it_can_end(ash: Browser, bed: str, database, ward: Ward):
    answer = send(ash, f"{bed}/targets", ordered_by="Dr Elm", spo2_band="88-92", volume_target="6")
    assert "Ordered: SpO2 88–92 %, 6 mL/kg, by Dr Elm." in answer.text
    assert "SpO2 88–95 %" in answer.text
    ended = send(ash, f"{bed}/targets?end=yes", ordered_by="Dr Elm", why="comfort care")
    assert "No target is ordered" in ended.text
    assert facts_of(database, ward).targets.spo2_low is None
    assert "ordered targets" in ash.get(bed).text


def test_an_order_ends_with_a_reason_only(ash: Browser, bed: str):
    answer = send(ash, f"{bed}/targets?end=yes", ordered_by="Dr Elm")
    assert answer.status == 422
    assert "Say why the order ended" in answer.text


def test_a_reader_changes_neither(browser: Browser, bed: str):
    browser.sign_in("oak", "larch and cedar 7")
    for part in ("targets", "machine"):
        assert 'id="fill"' not in browser.get(f"{bed}/{part}").text
        assert browser.post(f"{bed}/{part}", {"csrf": "0"}).status == 403
