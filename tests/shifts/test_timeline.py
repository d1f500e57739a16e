"""The whole course on one page, kinds of events that were added later among it."""

import pytest

from app.actions.end_event import end_event
from app.actions.record_event import NewEvent, record_event
from app.charting.events import EVENT_KINDS
from app.charting.fields.episodes import SUPPORT
from tests.client import Browser
from tests.clock import Clock
from tests.shifts.checks import chart
from tests.shifts.handing import accept, offer
from tests.site import PASSWORD
from tests.ward import Ward

SAID = {
    "trial_screen": {"screen_not_done": "no time"},
    "breathing_trial": {"trial_kind": "t_piece"},
    "end.breathing_trial": {"trial_outcome": "passed"},
}
"""What some kinds cannot be charted without."""


@pytest.fixture
def page(ward: Ward) -> str:
    """Address of the timeline of P-01 in L3."""
    return f"/courses/{ward.courses['L3']}/timeline"


def lines(browser: Browser, page: str) -> list[list[str]]:
    """The cells of every line, newest first."""
    rows = browser.get(page).page.root.all("tr")
    cells = ([cell.text for cell in row.all("th", "td")] for row in rows)
    return [row for row in cells if row[0] != "Time"]


def test_every_kind_of_event_stands_on_it(
    ash: Browser, page: str, database, clock: Clock, ward: Ward
):
    course = ward.courses["L3"]
    for kind in EVENT_KINDS.values():
        clock.forward(minutes=1)
        with database.writing(clock, ward.staff["ash"]) as writing:
            said = SAID.get(kind.code, {})
            record_event(writing, course, NewEvent(kind.code, clock.now, "so it was", said))
        if kind.lasts:
            clock.forward(minutes=1)
            with database.writing(clock, ward.staff["ash"]) as writing:
                said = SAID.get(f"end.{kind.code}", {})
                end_event(writing, course, NewEvent(kind.code, clock.now, details=said))
    ash.sign_in("ash", PASSWORD)
    told = [words for _, what, words, _ in lines(ash, page) if what == "Event"]
    for kind in EVENT_KINDS.values():
        assert any("so it was" in words and kind.label in words for words in told) or (
            kind.code == "other"
        )
        assert not kind.lasts or any(words.startswith(f"{kind.ends} after") for words in told)


def test_what_was_said_of_a_state_stands_at_its_own_time(
    ash: Browser, page: str, database, clock: Clock, ward: Ward
):
    course = ward.courses["L3"]
    began = NewEvent("prone", clock.now, "", {"prone_target_h": "16"})
    with database.writing(clock, ward.staff["ash"]) as writing:
        record_event(writing, course, began)
    clock.forward(minutes=10)
    with database.writing(clock, ward.staff["ash"]) as writing:
        end_event(writing, course, NewEvent("prone", clock.now, "pressure on the eye"))
    told = [(at, words) for at, what, words, _ in lines(ash, page) if what == "Event"]
    assert told == [
        ("19:40", "Turned supine after 10 min; pressure on the eye"),
        ("19:30", "Turned prone; Hours meant: 16 h"),
    ]


def test_what_the_line_of_an_event_holds_is_not_told_again_behind_it(
    ash: Browser, page: str, database, clock: Clock, ward: Ward
):
    course, said = ward.courses["L3"], {"screen_not_done": "no time"}
    way = {"trial_kind": SUPPORT, "trial_level": "5", "trial_minutes": "30"}
    for kind, details in (("trial_screen", said), ("breathing_trial", way)):
        clock.forward(minutes=1)
        with database.writing(clock, ward.staff["ash"]) as writing:
            record_event(writing, course, NewEvent(kind, clock.now, "", details))
    assert [words for _, what, words, _ in lines(ash, page) if what == "Event"] == [
        "Breathing trial: pressure support, 5 cmH2O; Minutes meant: 30 min",
        "Screened for a breathing trial: not done: no time",
    ]


def test_place_airway_mode_handoff_and_end_stand_in_the_order_of_time(
    ash: Browser, page: str, clock: Clock, ward: Ward
):
    chart(ash, ward, "L3")
    offer(ash, ward, "L3", to="birch")
    birch = ash.another()
    birch.sign_in("birch", PASSWORD)
    clock.forward(minutes=5)
    accept(birch, ward, "L3")
    place = page.replace("timeline", "place")
    for code, typed in (("bed", {"bed": "L11"}), ("close", {"end": "left", "words": "ward 4"})):
        clock.forward(minutes=5)
        ash.get(f"{place}?act={code}")
        ash.submit(place, **typed)
    assert [(at, what, words) for at, what, words, _ in lines(ash, page)] == [
        ("19:45", "Course", "Closed: Left the unit: ward 4"),
        ("19:40", "Place", "L3 → L11"),
        ("19:35", "Handoff", "Birch accepted from Ash"),
        ("19:30", "Mode", "Volume control, assist/control"),
        ("19:30", "Airway", "Placed: Oral tube 7.5 mm, 22 cm at the lip, right"),
        ("19:30", "Place", "In L3"),
        ("19:30", "Course", "Support began"),
    ]
    headings = [heading.text for heading in ash.last.page.root.all("h2")]
    assert headings[:2] == ["Wed 25 Nov 2026 day 3", "Mon 23 Nov 2026 day 1"]
