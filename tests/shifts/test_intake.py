"""A patient comes to an empty bed: one form, its parts that wait, and what cannot be."""

import pytest

from app.record.beds import find_bed, occupants, settle
from app.record.courses import course_facts
from app.record.tables import CourseEndRow
from tests.client import Answer, Browser, browsing
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD, open_site
from tests.ward import Ward

PAGE = "/beds/L11/intake"
WHO = {"name": "P-21 Test", "mrn": "LR-7070"}
WHOLE = {
    **WHO,
    "birth_date": "1970-03-09",
    "height_cm": "170",
    "height_method": "supine_tape",
    "pbw_sex": "F",
    "airway_category": "ett_oral",
    "airway_size_mm": "7.5",
    "airway_depth_cm": "22",
    "airway_depth_reference": "lip",
    "airway_side": "right",
    "difficult_airway": "no",
    "confirmed_by": "Ash",
    "confirmed_co2": "yes",
    "device_id": "V-7",
    "pre_use_check": "passed",
    "pre_use_check_passed_at": "2026-11-25T19:10",
    "humidifier": "heated",
    "safe_humidifier_filled": "yes",
    "safe_expiratory_filter": "no",
    "mode_family": "ac_vc",
    "fio2_set": "100 %",
    "ordered_by": "Dr Oak",
    "spo2_band": "88-95",
}


def take_in(browser: Browser, page: str = PAGE, **typed: str) -> Answer:
    browser.get(page)
    return browser.submit(page, **typed)


def who_is_in(database, ward: Ward, bed: str) -> str:
    with database.reading() as session:
        there = occupants(session, ward.unit_id)
        return there.get(find_bed(session, ward.unit_id, bed).id, "")


def facts_in(database, ward: Ward, bed: str):
    with database.reading() as session:
        return course_facts(session, who_is_in(database, ward, bed))


def test_an_empty_bed_leads_to_its_intake_and_that_to_the_first_check(
    ash: Browser, database, ward: Ward
):
    assert "Take a patient in" in ash.get("/beds/L11").text
    answer = take_in(ash, **WHOLE)
    facts = facts_in(database, ward, "L11")
    assert answer.path == f"/courses/{facts.course_id}/assess"
    assert (facts.identity.record_number, facts.age_y) == ("LR-7070", 56)
    tube = facts.airways[0]
    assert (tube.act, tube.depth_reference, tube.confirmed_how) == ("placed", "lip", "co2")
    latest = facts.latest_readings()
    assert (latest["device_id"].word, latest["fio2_set"].number) == ("V-7", 100)
    assert facts.standing[0].mode_family == "ac_vc"
    assert (facts.targets.spo2_low, facts.targets.ordered_by) == (88, "Dr Oak")


def test_the_first_tasks_are_there_by_themselves(ash: Browser, database, ward: Ward):
    take_in(ash, **WHOLE)
    tasks = facts_in(database, ward, "L11").tasks
    assert {task.rule for task in tasks} == {
        "safe_expiratory_filter",
        "first_gas",
        "oxygen_again",
        "cuff",
        "first_plateau",
        "first_image",
    }
    assert {task.source for task in tasks} == {"rule"}


def test_what_waits_stays_open_to_see_and_is_completed_later(
    ash: Browser, database, clock: Clock, ward: Ward
):
    take_in(ash, **WHO)
    base = f"/courses/{who_is_in(database, ward, 'L11')}"
    bed = ash.get(base)
    for part in ("age", "height", "airway", "ordered targets", "machine", "first check"):
        assert f">{part}</a>" in bed.text
    ash.get(f"{base}/who")
    ash.submit(f"{base}/who", age_y="56")
    ash.get(f"{base}/airway?act=placed")
    clock.forward(minutes=5)
    ash.submit(f"{base}/airway", airway_category="ett_oral", airway_size_mm="7.5")
    ash.get(f"{base}/height")
    ash.submit(f"{base}/height", height_cm="170", height_method="standing", pbw_sex="F")
    bed = ash.get(base)
    for part in ("age", "height", "airway"):
        assert f">{part}</a>" not in bed.text
    assert ">ordered targets</a>" in bed.text


def test_the_weight_is_shown_before_anything_is_saved(ash: Browser, database, ward: Ward):
    ash.get(PAGE)
    looked = ash.submit(PAGE, press="weight", height_cm="170", pbw_sex="F")
    assert "Predicted weight 61.5 kg" in looked.text
    assert ">369<" in looked.text  # 6 mL/kg
    token = looked.page.form(PAGE)
    csrf = next(e["value"] for e in token.all("input") if e["name"] == "csrf")
    typed = {"csrf": csrf, "height_cm": "160", "pbw_sex": "F"}
    part = ash.post(f"{PAGE}/weight", typed, sec_fetch_site="same-origin")
    assert "Predicted weight 52.4 kg" in part.text
    assert who_is_in(database, ward, "L11") == ""


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"name": "P-21 Test"}, "Two identifiers are needed"),
        ({**WHO, "height_cm": "170"}, "Say how the height was found"),
        ({**WHO, "height_cm": "17"}, "Height"),
        ({**WHO, "airway_size_mm": "7.5"}, "Say what was placed"),
        (
            {**WHO, "airway_category": "ett_oral", "airway_depth_cm": "22"},
            "Say at which mark the depth was read",
        ),
        ({**WHO, "birth_date": "1970-03-09", "age_y": "40"}, "The birth date gives 56 years"),
        ({**WHO, "mode_family": "ac_vc"}, "With a mode, write the oxygen"),
        ({**WHO, "spo2_band": "88-92"}, "Say who ordered it"),
        ({**WHO, "observed_at": "2026-11-25T20:30"}, "still to come"),
        ({**WHO, "mrn": "LR-2086"}, "on an open course of this unit"),
    ],
)
def test_what_cannot_be_is_refused_in_words(
    ash: Browser, database, ward: Ward, typed: dict[str, str], words: str
):
    answer = take_in(ash, **typed)
    assert answer.status == 422
    assert words in answer.text
    assert who_is_in(database, ward, "L11") == ""


def test_an_open_course_of_the_same_number_is_led_to(ash: Browser, ward: Ward):
    answer = take_in(ash, **{**WHO, "mrn": "LR-2086"})
    assert f'href="/courses/{ward.courses["L3"]}"' in answer.text


def test_nobody_is_taken_into_a_bed_that_is_taken(ash: Browser, browser: Browser, ward: Ward):
    shown = ash.get("/beds/L3/intake")
    assert (shown.status, shown.page.heading) == (409, "L3 is taken")
    ash.get(PAGE)
    form = ash.last
    ash.submit(PAGE, **WHO)
    ash.last = form
    second = ash.submit(PAGE, name="P-22 Test", mrn="LR-7171", save_key="another")
    assert second.status == 422
    assert "L11 is taken" in second.text


def test_a_form_sent_twice_is_one_patient(ash: Browser, database, ward: Ward):
    ash.get(PAGE)
    form = ash.last
    first = ash.submit(PAGE, **WHO)
    ash.last = form
    second = ash.submit(PAGE, **WHO)
    assert (second.status, second.path) == (200, first.path)


def test_who_was_here_before_can_come_back(ash: Browser, database, clock: Clock, ward: Ward):
    before = ward.courses["L5"]
    with database.writing(clock, ward.staff["ash"]) as writing:
        writing.add(CourseEndRow(course_id=before, ended_at=clock.now, kind="extubated"))
        settle(writing, [before])
        writing.audit("end_course", course_id=before)
    clock.forward(minutes=5)
    asked = take_in(ash, name="P-05 Test", mrn="LR-4471")
    assert asked.status == 422
    assert "Is it P-05 Test, come back?" in asked.text
    with database.reading() as session:
        patient = course_facts(session, before).identity.patient_id
    ash.submit(PAGE, accept=f"came_back:{patient}")
    now = facts_in(database, ward, "L11")
    assert (now.identity.patient_id, now.course_id != before) == (patient, True)


def test_a_machine_of_another_patient_is_asked_about(ash: Browser, database, ward: Ward):
    other = f"/courses/{ward.courses['L5']}/machine"
    ash.get(other)
    ash.submit(other, device_id="V-7")
    asked = take_in(ash, **WHO, device_id="V-7")
    assert "Machine V-7 is charted at L5" in asked.text
    saved = ash.submit(PAGE, device_id="")
    assert saved.status == 200
    assert "device_id" not in facts_in(database, ward, "L11").latest_readings()


def test_a_child_is_taken_in_and_no_adult_number_is_shown(ash: Browser, database, ward: Ward):
    child = {**WHOLE, "birth_date": "2017-05-02", "height_cm": "132", "airway_size_mm": "6"}
    ash.get(PAGE)
    looked = ash.submit(PAGE, press="weight", **child)
    assert "Predicted weight" not in looked.text.partition("<table")[0].partition('id="weight"')[2]
    take_in(ash, **child)
    facts = facts_in(database, ward, "L11")
    assert facts.age_y == 9
    bed = ash.get(f"/courses/{facts.course_id}").text
    assert "adult" in bed
    assert "not used under 18 years" in bed


@pytest.mark.parametrize("who", ["oak", "fern"])
def test_who_may_not_place_patients_takes_nobody_in(browser: Browser, who: str):
    browser.sign_in(who, PASSWORD)
    assert "Take a patient in" not in browser.get("/beds/L11").text
    assert browser.get(PAGE).status == 403
    assert browser.post(PAGE, WHO).status == 403


def test_before_an_intake_there_is_no_check(ash: Browser):
    answer = ash.get(f"/courses/{'0' * 32}/assess")
    assert answer.status == 404
    assert 'href="/"' in answer.text


def test_of_a_child_no_page_says_an_adults_number_or_limit(ash: Browser, ward: Ward):
    """Far over every adult limit, charted for a child of nine (scenario 23)."""
    base = f"/courses/{ward.courses['L10']}"
    far_over = {
        **PLAIN,
        "plateau_pressure_obs": "44",
        "peak_inspiratory_pressure_obs": "50",
        "tidal_volume_obs": "700",
        "tidal_volume_set": "700",
        "minute_vent_obs": "14",
    }
    ash.get(f"{base}/assess")
    live = ash.submit(f"{base}/assess", press="family", **far_over)
    accept = [tick["value"] for tick in live.page.root.all("input") if tick["name"] == "accept"]
    saved = ash.submit(f"{base}/assess", accept=accept)
    assert saved.path == base
    pages = [live, saved, ash.get("/"), ash.get(f"{base}/handoff")]
    for page in pages[:2] + pages[3:]:
        assert "dult formulae, limits and rules are off" in page.text
    for page in pages:
        for words in ("over 15", "over 30", "over 8", "predicted</a>", "kg predicted"):
            assert words not in page.text.partition("L10")[2], (page.path, words)


def test_who_took_a_patient_in_has_said_whose_chart_it_is(database, clock: Clock, ward: Ward):
    with browsing(open_site(database, clock, identity_digits=2)) as browser:
        browser.sign_in("ash", PASSWORD)
        take_in(browser, **WHO)
        own = f"/courses/{who_is_in(database, ward, 'L11')}/machine"
        browser.get(own)
        assert browser.submit(own, safe_suction="yes").path == own
        other = f"/courses/{ward.courses['L3']}/machine"
        browser.get(other)
        asked = browser.submit(other, safe_suction="yes")
        assert (asked.status, asked.page.heading) == (422, "Whose chart is this?")
