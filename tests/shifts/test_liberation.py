"""Off the ventilator over HTTP: extubated, re-intubated, on a tracheostomy mask, decannulated."""

import pytest

from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD
from tests.ward import Ward, facts_of

READY = {
    "ready_trial": "yes",
    "ready_awake": "yes",
    "ready_cough": "yes",
    "ready_stomach": "yes",
    "ready_after": "yes",
    "ready_gear": "no",
}
TO_HIGH_FLOW = {**READY, "cuff_leak_ml": "180", "breathes_now": "high_flow"}
TUBE = {
    "airway_category": "ett_oral",
    "airway_size_mm": "7.5",
    "airway_depth_cm": "22",
    "airway_depth_reference": "lip",
}
HIGH_FLOW = {
    "mode_family": "hfnc",
    "fio2_set": "50",
    "lpm_set": "50",
    "resp_rate_obs": "25",
    "spo2": "95",
    "heart_rate": "90",
}


@pytest.fixture
def facts(database, ward: Ward):
    return lambda: facts_of(database, ward)


def act(browser: Browser, bed: str, code: str, **typed: str) -> Answer:
    browser.get(f"{bed}/liberation?act={code}")
    return browser.submit(f"{bed}/liberation", **{"act": code, **typed})


def airway(browser: Browser, bed: str, code: str, **typed: str) -> Answer:
    browser.get(f"{bed}/airway?act={code}")
    return browser.submit(f"{bed}/airway", **typed)


def chart(browser: Browser, bed: str, typed: dict[str, str]) -> Answer:
    browser.get(f"{bed}/assess")
    return browser.submit(f"{bed}/assess", **typed)


def with_tracheostomy(browser: Browser, bed: str, clock: Clock) -> None:
    airway(browser, bed, "tracheostomy", airway_size_mm="8", stoma_on="2026-11-20")
    clock.forward(minutes=10)


# ---------- extubation ----------


def test_an_extubation_ends_invasive_support_and_the_fields_of_the_machine(
    ash: Browser, bed: str, clock: Clock, facts
):
    chart(ash, bed, PLAIN)
    clock.forward(minutes=10)
    answer = act(ash, bed, "extubation", **TO_HIGH_FLOW)
    assert answer.path == bed
    assert "No volumes or pressures to read: high-flow nasal oxygen" in answer.text
    removed = facts().airways[-1]
    assert (removed.act, removed.words, removed.category) == (
        "removed",
        "planned",
        "nasal_cannula",
    )
    (event,) = facts().events
    assert event.words == (
        "Extubated: now high flow, nasal cannula; cuff leak 180 mL; checklist: 1 answered no"
    )
    form = ash.get(f"{bed}/assess")
    names = {element["name"] for element in form.page.root.all("input", "select")}
    assert "lpm_set" in names
    assert not {"tidal_volume_set", "cuff_pressure_cmh2o", "plateau_pressure_obs"} & names


def test_what_was_looked_at_before_stays_readable_item_by_item(ash: Browser, bed: str):
    act(ash, bed, "extubation", **{**TO_HIGH_FLOW, "ready_cough": ""})
    page = ash.get(f"{bed}/liberation").text
    assert "Breathing trial passed: yes" in page
    assert "Gear for another tube at the bed: no" in page
    assert "Cough and secretions manageable: not answered" in page


@pytest.mark.parametrize(
    ("to", "family", "through"),
    [
        ("room_air", "unassisted", "none"),
        ("mask_support", "niv", "mask"),
    ],
)
def test_what_is_breathed_afterwards_is_the_mode_and_the_airway(
    ash: Browser, bed: str, facts, to: str, family: str, through: str
):
    act(ash, bed, "extubation", **{**TO_HIGH_FLOW, "breathes_now": to})
    row = facts().standing[-1]
    assert (row.mode_family, facts().airways[-1].category) == (family, through)
    oxygen = row.readings.get("fio2_set")
    assert (str(oxygen.number) if oxygen else "") == ("21" if to == "room_air" else "")


def test_what_is_missing_of_an_extubation_is_said_and_nothing_is_lost(
    ash: Browser, bed: str, facts
):
    answer = act(ash, bed, "extubation", **{**TO_HIGH_FLOW, "breathes_now": ""})
    assert (answer.status, "what the patient breathes now" in answer.text) == (422, True)
    assert 'value="yes" selected' in answer.text
    assert not facts().events


def test_nobody_is_extubated_twice(ash: Browser, bed: str, clock: Clock):
    ash.get(f"{bed}/liberation?act=extubation")
    form = ash.last
    ash.submit(f"{bed}/liberation", **TO_HIGH_FLOW)
    clock.forward(minutes=5)
    ash.last = form
    again = ash.submit(f"{bed}/liberation", **TO_HIGH_FLOW, save_key="another")
    assert again.status == 422
    assert "Ash recorded its removal. A patient is extubated once." in again.text


def test_a_check_before_the_intake_is_refused(ash: Browser, bed: str):
    answer = chart(ash, bed, {**PLAIN, "observed_at": "2026-11-20T12:00"})
    assert (answer.status, "before support started" in answer.text) == (422, True)


def test_on_high_flow_rox_stands_with_the_hours_since_it_began(
    ash: Browser, bed: str, clock: Clock
):
    chart(ash, bed, PLAIN)
    clock.forward(minutes=10)
    assert "on high flow" not in ash.get(bed).text
    act(ash, bed, "extubation", **TO_HIGH_FLOW)
    clock.forward(hours=6)
    ash.sign_in("ash", PASSWORD)
    chart(ash, bed, HIGH_FLOW)
    page = ash.get(bed).text
    assert "7.60" in page
    assert "6 h on high flow" in page


# ---------- a tube again ----------


def test_a_tube_that_goes_in_again_is_the_same_course_with_the_time_between(
    ash: Browser, bed: str, clock: Clock, facts, ward: Ward
):
    act(ash, bed, "extubation", **TO_HIGH_FLOW)
    clock.forward(hours=14)
    ash.sign_in("ash", PASSWORD)
    airway(ash, bed, "placed", **TUBE)
    words = "14 h after extubation"
    assert f"Re-intubated: {words}" in [event.words for event in facts().events]
    page = ash.get(bed)
    assert words in page.text
    assert "New tube: support not charted" in page.text
    assert words in ash.get(f"{bed}/handoff").text
    assert facts().course_id == ward.courses["L3"]
    assert "day 4" in page.text


def test_while_no_tube_is_in_the_banner_says_since_when_and_by_which_rule(
    ash: Browser, bed: str, clock: Clock
):
    act(ash, bed, "extubation", **TO_HIGH_FLOW)
    clock.forward(hours=2)
    ash.sign_in("ash", PASSWORD)
    page = ash.get(bed).text
    assert "day 3, off since 19:30" in page
    assert "a gap without one whole calendar day counts on" in page


def test_a_whole_calendar_day_off_begins_the_days_anew(ash: Browser, bed: str, clock: Clock):
    act(ash, bed, "extubation", **TO_HIGH_FLOW)
    clock.forward(days=2)
    ash.sign_in("ash", PASSWORD)
    airway(ash, bed, "placed", **TUBE)
    assert "day 1" in ash.get(bed).text


def test_nobody_is_intubated_with_a_tube_in_place(ash: Browser, bed: str):
    refused = airway(ash, bed, "placed", **TUBE)
    assert (refused.status, "is in place" in refused.text) == (422, True)


# ---------- what an unplanned extubation left open ----------


def tube_out(browser: Browser, bed: str) -> None:
    browser.get(f"{bed}/tube-out")
    browser.submit(f"{bed}/tube-out")


def test_what_was_left_open_is_told_later_piece_by_piece(
    ash: Browser, bed: str, clock: Clock, facts
):
    tube_out(ash, bed)
    clock.forward(minutes=10)
    page = act(ash, bed, "told", breathes_now="high_flow", tube_out_how="coughed it out").text
    assert "tube out unplanned: re-intubated or not" in page
    assert "tube out unplanned: what the patient breathes now" not in page
    assert "High-flow nasal oxygen" in page
    assert facts().events[-1].words == "Unplanned extubation: coughed it out"
    clock.forward(minutes=5)
    page = act(ash, bed, "told", tube_in_again="no").text
    assert "tube out unplanned" not in page
    assert [task.reason for task in facts().tasks] == [
        "High flow, nasal cannula",
        "coughed it out",
        "not re-intubated",
    ]


def test_a_tube_that_goes_in_again_settles_what_was_open_of_it(
    ash: Browser, bed: str, clock: Clock, facts
):
    tube_out(ash, bed)
    clock.forward(minutes=12)
    airway(ash, bed, "placed", **TUBE)
    is_open = [task.rule for task in facts().tasks if task.is_open]
    assert is_open == ["tube_out_how", "cuff", "settings_after_reintubation"]
    assert "12 min after the tube came out unplanned" in ash.get(bed).text


def test_what_cannot_be_told_is_refused(ash: Browser, bed: str, clock: Clock):
    tube_out(ash, bed)
    clock.forward(minutes=5)
    early = act(ash, bed, "told", breathes_now="room_air", observed_at="2026-11-25T19:00")
    assert (early.status, "before the tube came out" in early.text) == (422, True)
    assert "at least one" in act(ash, bed, "told").text


# ---------- tracheostomy ----------


def test_hours_off_the_ventilator_stand_on_bed_page_and_handoff(
    ash: Browser, bed: str, clock: Clock
):
    with_tracheostomy(ash, bed, clock)
    act(ash, bed, "off")
    clock.forward(hours=3)
    ash.sign_in("ash", PASSWORD)
    assert "today 3 h 00, off now, since 19:40" in ash.get(bed).text
    act(ash, bed, "back")
    clock.forward(minutes=10)
    for path in ("", "/handoff"):
        text = ash.get(f"{bed}{path}").text
        assert "Off the ventilator through the tracheostomy: today 3 h 00" in text
        assert "off now" not in text


def test_no_session_begins_without_a_tracheostomy_or_ends_without_a_beginning(
    ash: Browser, bed: str, clock: Clock
):
    ash.get(f"{bed}/liberation")
    form = ash.last
    refused = ash.submit(f"{bed}/liberation", act="off", **dict.fromkeys(READY, ""))
    assert (refused.status, "No tracheostomy is in place" in refused.text) == (422, True)
    with_tracheostomy(ash, bed, clock)
    ash.last = form
    refused = ash.submit(f"{bed}/liberation", act="back", **dict.fromkeys(READY, ""))
    assert (refused.status, "not charted as going on" in refused.text) == (422, True)


def test_a_decannulation_leaves_a_stoma_and_ends_the_session(
    ash: Browser, bed: str, clock: Clock, facts
):
    with_tracheostomy(ash, bed, clock)
    act(ash, bed, "off")
    clock.forward(minutes=10)
    answer = act(ash, bed, "decannulation", ready_capped="yes", breathes_now="room_air")
    assert answer.path == bed
    assert facts().airways[-1].category == "stoma"
    off = next(event for event in facts().events if event.kind == "off_ventilator")
    assert off.ended_at == clock.now
    assert "Decannulated: now room air" in answer.text


def test_without_a_tracheostomy_nobody_is_decannulated(ash: Browser, bed: str):
    ash.get(f"{bed}/liberation")
    answer = ash.submit(f"{bed}/liberation", act="decannulation", breathes_now="room_air")
    assert (answer.status, "No tracheostomy tube is in place" in answer.text) == (422, True)


def test_a_tracheostomy_is_not_extubated(ash: Browser, bed: str, clock: Clock):
    ash.get(f"{bed}/liberation")
    form = ash.last
    with_tracheostomy(ash, bed, clock)
    ash.last = form
    answer = ash.submit(f"{bed}/liberation", **TO_HIGH_FLOW)
    assert (answer.status, "record a decannulation" in answer.text) == (422, True)


def test_inner_cannula_and_spares_are_changed_later(ash: Browser, bed: str, clock: Clock, facts):
    with_tracheostomy(ash, bed, clock)
    airway(ash, bed, "spares", spare_same="yes", spare_smaller="yes")
    clock.forward(minutes=10)
    page = airway(ash, bed, "spares", spare_smaller="no", inner_cannula="yes").text
    row = facts().airways[-1]
    assert (row.spare_same, row.spare_smaller, row.inner_cannula) == ("yes", "no", "yes")
    assert (row.category, str(row.size_mm)) == ("trach", "8")
    assert "Inner cannula and spares" in page


def test_who_reads_sees_what_was_written_and_no_form(browser: Browser, bed: str):
    browser.sign_in("oak", PASSWORD)
    page = browser.get(f"{bed}/liberation")
    assert (page.status, 'id="fill"' in page.text) == (200, False)
    assert browser.post(f"{bed}/liberation", {"csrf": "0", "act": "off"}).status == 403
