"""An event from the bed page and back: what happened, what lasts, and what a page says of it."""

from datetime import timedelta

import pytest

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.ward import Ward


def send(browser: Browser, ward: Ward, **typed: str) -> Answer:
    action = f"/courses/{ward.courses['L3']}/events"
    browser.get(action)
    return browser.submit(action, **typed)


def kinds(answer: Answer) -> list[str]:
    return [option["value"] for option in answer.page.root.all("option")]


def test_the_bed_page_leads_to_events_and_shows_them(ash: Browser, ward: Ward) -> None:
    bed = ash.get(f"/courses/{ward.courses['L3']}")
    action = f"/courses/{ward.courses['L3']}/events"
    assert action in [link["href"] for link in bed.page.root.all("a")]
    saved = send(ash, ward, kind="suction", words="Thick plug")
    assert saved.path == f"/courses/{ward.courses['L3']}"
    assert "Suction: Thick plug" in saved.text


def test_a_transport_is_ended_from_the_same_form(ash: Browser, ward: Ward, clock: Clock) -> None:
    send(ash, ward, kind="away", words="CT")
    clock.now += timedelta(minutes=5)
    form = ash.get(f"/courses/{ward.courses['L3']}/events")
    assert "end.away" in kinds(form)
    ended = send(ash, ward, kind="end.away")
    assert "Transport, away from the unit: CT, until 19:35" in ended.page.text
    assert "end.away" not in kinds(ash.get(f"/courses/{ward.courses['L3']}/events"))


def test_a_time_is_typed_in_24_hours_with_or_without_its_colon(ash: Browser, ward: Ward) -> None:
    saved = send(ash, ward, kind="suction", **{"observed_at.time": "1855"})
    assert (saved.status, "18:55" in saved.page.text) == (200, True)


def test_a_check_while_away_is_asked_about(ash: Browser, ward: Ward, clock: Clock) -> None:
    send(ash, ward, kind="away")
    clock.now += timedelta(minutes=5)
    action = f"/courses/{ward.courses['L3']}/assess"
    ash.get(action)
    asked = ash.submit(action, **PLAIN)
    assert (asked.status, "charted as away" in asked.text) == (422, True)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"kind": ""}, "pick one of the list"),
        ({"kind": "suction", "observed_at": "2026-11-25T20:30"}, "still to come"),
        ({"kind": "suction", "observed_at": "yesterday"}, "Write day and time"),
        ({"kind": "suction", "observed_at.time": "7 pm"}, "7 pm: write the time in 24 hours"),
        ({"kind": "suction", "observed_at.time": ""}, "No time: write the time in 24 hours"),
        ({"kind": "end.prone"}, "not charted as going on"),
        ({"kind": "extubation"}, "on a page of its own"),
        ({"kind": "end.off_ventilator"}, "on a page of its own"),
    ],
)
def test_what_cannot_be_is_said_and_every_word_stays(
    ash: Browser, ward: Ward, typed: dict[str, str], said: str
) -> None:
    answer = send(ash, ward, words="Kept words", **typed)
    assert (answer.status, said in answer.page.text) == (422, True)
    assert "Kept words" in answer.text
