"""The airway over HTTP: exchanged, moved, secured, a tracheostomy, and what cannot be."""

from datetime import timedelta
from decimal import Decimal

import pytest

from app.actions.record_airway import NewAirway, record_airway
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.ward import Ward, facts_of

EXCHANGE = {
    "airway_size_mm": "8",
    "airway_depth_cm": "23",
    "airway_depth_reference": "lip",
    "why": "cuff leak",
    "confirmed_by": "Ash",
    "confirmed_co2": "yes",
}


@pytest.fixture
def page(ward: Ward) -> str:
    """Address of the airway of P-01 in L3: oral tube 7.5, 22 cm at the lip."""
    return f"/courses/{ward.courses['L3']}/airway"


def act(browser: Browser, page: str, code: str, **typed: str) -> Answer:
    browser.get(f"{page}?act={code}")
    return browser.submit(page, **typed)


def test_an_exchange_is_a_second_tube_and_stands_in_the_changes(
    ash: Browser, page: str, database, ward: Ward
):
    answer = act(ash, page, "exchanged", **EXCHANGE)
    assert "Oral tube 7.5 mm → Oral tube 8.0 mm" in answer.text
    assert "confirmed by Ash (CO2 waveform)" in answer.text
    handoff = ash.get(f"/courses/{ward.courses['L3']}/handoff").text
    assert "Oral tube 7.5" in handoff
    assert "cuff leak" in handoff
    facts = facts_of(database, ward)
    assert [(row.act, str(row.size_mm)) for row in facts.airways] == [
        ("placed", "7.5"),
        ("exchanged", "8"),
    ]
    assert [(task.rule, task.source) for task in facts.tasks] == [("cuff", "rule")]


def test_a_form_that_was_saved_before_with_other_content_is_shown_again(ash: Browser, page: str):
    ash.get(f"{page}?act=exchanged")
    form = ash.last
    ash.submit(page, **EXCHANGE)
    ash.last = form
    again = ash.submit(page, **{**EXCHANGE, "why": "too small"})
    assert (again.status, "saved before with other content" in again.text) == (422, True)
    assert "too small" in {field["value"] for field in again.page.root.all("input")}


def test_a_text_that_is_too_long_is_refused_beside_its_field(ash: Browser, page: str):
    answer = act(ash, page, "exchanged", **{**EXCHANGE, "why": "leak " * 60})
    assert answer.status == 422
    assert "Why is 299 characters long. It takes 140." in answer.text


def test_a_depth_after_an_exchange_asks_nothing_and_another_one_does(
    ash: Browser, page: str, clock: Clock, ward: Ward
):
    check = f"/courses/{ward.courses['L3']}/assess"
    ash.get(check)
    ash.submit(check, **PLAIN)
    clock.forward(minutes=10)
    act(ash, page, "exchanged", **EXCHANGE)
    clock.forward(minutes=10)
    ash.get(check)
    same_tube = ash.submit(check, **{**PLAIN, "airway_depth_cm": "23"}, press="family")
    assert "Has the tube moved?" not in same_tube.text
    moved = ash.submit(check, **{**PLAIN, "airway_depth_cm": "24"}, press="family")
    assert "24 cm, was 23 cm. Has the tube moved?" in moved.text


def test_a_tube_that_was_moved_says_from_where(ash: Browser, page: str, clock: Clock):
    clock.forward(minutes=5)
    answer = act(ash, page, "repositioned", airway_depth_cm="24", why="tip high on the image")
    assert "22 cm at the lip → 24 cm at the lip" in answer.text
    assert "tip high on the image" in answer.text
    clock.forward(minutes=5)
    again = act(ash, page, "re-secured", airway_side="left")
    assert "In place: Oral tube 7.5 mm, 24 cm at the lip" in again.text


def test_a_tracheostomy_is_fresh_for_seven_days(ash: Browser, page: str, clock: Clock):
    stoma = {"airway_size_mm": "8", "stoma_on": "2026-11-25", "spare_same": "yes"}
    answer = act(ash, page, "tracheostomy", **stoma, may_change="surgeon only")
    assert "Fresh tracheostomy" in answer.text
    assert "may be changed by surgeon only" in answer.text
    clock.forward(days=8)
    ash.sign_in("ash", "larch and cedar 7")
    assert "Fresh tracheostomy" not in ash.get(page).text


def test_a_tracheostomy_of_the_evening_is_made_on_the_units_day(ash: Browser, page: str):
    # 19:30 in the unit is the next day in UTC.
    assert "made on 2026-11-25" in act(ash, page, "tracheostomy", airway_size_mm="8").text


@pytest.mark.parametrize(
    ("code", "typed", "words"),
    [
        ("tracheostomy", {"airway_size_mm": "8", "stoma_on": "2026-11-26"}, "still to come"),
        ("exchanged", {"airway_depth_cm": "23", "why": "leak"}, "size of the new tube"),
        ("exchanged", {"airway_size_mm": "8"}, "why the tube was exchanged"),
        ("placed", {"airway_category": "ett_oral"}, "is in place: record an exchange"),
        ("repositioned", {"why": "high"}, "Write the depth"),
        ("re-secured", {"observed_at": "2026-11-25T20:30"}, "still to come"),
        ("re-secured", {"observed_at": "2026-11-20T20:30"}, "before support started"),
        ("exchanged", {"airway_size_mm": "25", "why": "leak"}, "Tube size"),
        ("re-secured", {"act": "removed"}, "Say what was done"),
    ],
)
def test_what_cannot_be_is_refused_in_words(ash: Browser, page: str, code, typed, words):
    answer = act(ash, page, code, **typed)
    assert answer.status == 422
    assert words in answer.text


@pytest.mark.parametrize("code", ["exchanged", "repositioned", "re-secured"])
def test_without_a_tube_nothing_is_done_to_it(
    ash: Browser, page: str, database, clock: Clock, ward: Ward, code: str
):
    with database.writing(clock, ward.staff["ash"]) as writing:
        record_airway(writing, ward.courses["L3"], NewAirway(act="removed", observed_at=clock.now))
    clock.forward(minutes=5)
    answer = (
        act(ash, page, code, airway_size_mm="8", airway_depth_cm="23", why="leak")
        if (code == "exchanged")
        else act(ash, page, code)
    )
    assert answer.status == 422
    assert "No tube is in place" in answer.text
    placed = act(ash, page, "placed", airway_category="nasal_cannula")
    assert "In place: Nasal cannula" in placed.text


def test_nothing_is_written_before_what_was_written_already(ash: Browser, page: str, clock: Clock):
    act(ash, page, "re-secured", airway_side="left")
    local = (clock.now - timedelta(hours=5, minutes=30)).strftime("%Y-%m-%dT%H:%M")
    answer = act(ash, page, "re-secured", airway_side="right", observed_at=local)
    assert "Something later is recorded" in answer.text


@pytest.mark.parametrize(("said", "stays"), [("", "yes"), ("no", "no")])
@pytest.mark.parametrize("then", ["exchanged", "tracheostomy", "placed"])
def test_a_difficult_airway_stays_one_until_somebody_says_otherwise(
    database, clock: Clock, ward: Ward, then: str, said: str, stays: str
):
    course = ward.courses["L3"]
    leak = {"size_mm": Decimal(7), "why": "leak"}
    before = [NewAirway(act="exchanged", observed_at=clock.now, difficult="yes", **leak)]
    if then == "placed":
        before.append(NewAirway(act="removed", observed_at=clock.now + timedelta(minutes=1)))
    again = NewAirway(
        "" if then == "tracheostomy" else "ett_oral",
        act=then,
        observed_at=clock.now + timedelta(minutes=2),
        difficult=said,
        **leak,
    )
    clock.forward(minutes=5)
    for airway in (*before, again):
        with database.writing(clock, ward.staff["ash"]) as writing:
            record_airway(writing, course, airway)
    assert facts_of(database, ward).airways[-1].difficult == stays


def test_a_form_sent_twice_is_one_row(ash: Browser, page: str, database, ward: Ward):
    ash.get(f"{page}?act=exchanged")
    form = ash.last
    ash.submit(page, **EXCHANGE)
    ash.last = form
    ash.submit(page, **EXCHANGE)
    assert len(facts_of(database, ward).airways) == 2


def test_a_reader_reads_the_airway_and_changes_nothing(browser: Browser, page: str):
    browser.sign_in("oak", "larch and cedar 7")
    assert 'id="fill"' not in browser.get(page).text
    refused = browser.post(page, {"csrf": "0", "act": "removed"})
    assert refused.status == 403
