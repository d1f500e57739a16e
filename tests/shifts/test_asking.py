"""What is asked at the bed: holds, orders, gases, as found; the page says it beside the field."""

from datetime import timedelta

import pytest

from app.record.database import Database
from app.record.tables import ReadingRow, table_of
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.ward import Ward

READING = table_of(ReadingRow)


def open_form(browser: Browser, ward: Ward, kind: str = "", bed: str = "L3") -> str:
    action = f"/courses/{ward.courses[bed]}/assess"
    browser.get(action + kind)
    return action


def send(browser: Browser, ward: Ward, kind: str = "", bed: str = "L3", **typed) -> Answer:
    return browser.submit(open_form(browser, ward, kind, bed), **typed)


def look(browser: Browser, ward: Ward, kind: str = "", **typed) -> Answer:
    """What the form says without saving."""
    return browser.submit(open_form(browser, ward, kind), press="family", **typed)


def beside(answer: Answer, code: str) -> str:
    """What stands beside a field."""
    return next(e.text for e in answer.page.root.all("div") if e["id"] == f"says-{code}")


def ticks(answer: Answer, action: str) -> dict[str, str]:
    """Each open question's key, with what accepting it is called."""
    form = answer.page.form(action)
    return {e["value"]: e.parent.text for e in form.all("input") if e["name"] == "accept"}


def stored(database: Database, field: str):
    with database.reading() as session:
        rows = session.execute(READING.select().where(READING.c.field == field)).all()
    return rows[-1]


def without(*codes: str) -> dict[str, str]:
    return {code: text for code, text in PLAIN.items() if code not in codes}


def test_passive_is_asked_beside_its_own_field_and_suggests_nothing(
    ash: Browser, ward: Ward
) -> None:
    answer = look(ash, ward, **without("hold_passive"))
    assert "Was the patient passive during the hold?" in beside(answer, "hold_passive")
    chosen = next(e for e in answer.page.root.all("select") if e["name"] == "hold_passive")
    assert not [option for option in chosen.all("option") if "selected" in option.attributes]


@pytest.mark.parametrize(("rate", "said"), [("20", False), ("21", False), ("22", True)])
def test_the_question_says_that_the_patient_triggers(
    ash: Browser, ward: Ward, rate: str, said: bool
) -> None:
    typed = {**without("hold_passive"), "resp_rate_obs": rate, "minute_vent_obs": "8.6"}
    answer = look(ash, ward, **typed)
    assert ("the patient triggers" in beside(answer, "hold_passive")) is said


def test_a_hold_left_unanswered_is_saved_and_gives_no_driving_pressure(
    ash: Browser, ward: Ward
) -> None:
    answer = send(ash, ward, **without("hold_passive"))
    action = f"/courses/{ward.courses['L3']}/assess"
    ((key, words),) = ticks(answer, action).items()
    assert words.startswith("Leave it unanswered")
    saved = ash.submit(action, accept=[key])
    assert saved.path == f"/courses/{ward.courses['L3']}"
    assert "Cannot be judged" in ash.get("/").page.text


def test_what_cannot_be_is_recorded_as_found(ash: Browser, ward: Ward, database: Database) -> None:
    answer = send(ash, ward, **{**PLAIN, "humidifier": "hme_with_heated_found"})
    action = f"/courses/{ward.courses['L3']}/assess"
    ((key, words),) = ticks(answer, action).items()
    assert (answer.status, words.startswith("Record it as found")) == (422, True)
    assert ash.submit(action, accept=[key]).path == f"/courses/{ward.courses['L3']}"
    assert "as_found" in stored(database, "humidifier").marks


def test_unusual_and_far_from_the_last_is_one_question(
    ash: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    send(ash, ward, **PLAIN)
    clock.now += timedelta(minutes=10)
    answer = send(ash, ward, **{**PLAIN, "tidal_volume_set": "40"})
    said = beside(answer, "tidal_volume_set")
    assert "unusual, is it right?" in said
    assert "was 420, −90 %?" in said
    assert said.count("Yes, as typed") == 1


def test_a_number_says_what_was_made_of_it(ash: Browser, ward: Ward) -> None:
    assert "read as 0.4 is 40 %" in beside(look(ash, ward, fio2_set="0.4"), "fio2_set")
    assert "read as 25 mmHg is 34 cmH2O" in beside(
        look(ash, ward, cuff_pressure_cmh2o="25 mmHg"), "cuff_pressure_cmh2o"
    )


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("4 00", "has a space inside"),
        ("400mL", "no space before its unit"),
        ("12-14", "is two numbers"),
        ("4000", "is refused"),
        ("-5", "is refused"),
        ("４１５", ""),
        ("٤١٥", ""),
        ("415,5", ""),
    ],
)
def test_what_is_wrong_with_a_text_is_said_beside_it(
    ash: Browser, ward: Ward, typed: str, said: str
) -> None:
    answer = look(ash, ward, **{**PLAIN, "tidal_volume_obs": typed})
    assert said in beside(answer, "tidal_volume_obs")
    if not said:
        assert "is-refused" not in answer.text
        assert "aria-invalid" not in answer.text


def test_an_order_that_differs_is_shown_and_not_charted(ash: Browser, ward: Ward) -> None:
    answer = look(ash, ward, **{**PLAIN, "spo2": "98"})
    assert "SpO2 98 % is above the ordered 88 to 95 % (Dr Oak), on FiO2 45 %" in beside(
        answer, "spo2"
    )


def test_who_ordered_a_change_and_why_is_one_field(ash: Browser, ward: Ward) -> None:
    send(ash, ward, **PLAIN)
    brief = {"fio2_set": "40", "spo2": "94", "resp_rate_obs": "20"}
    saved = send(ash, ward, "?kind=brief", **brief, change_reason="SpO2 97, Dr Oak")
    assert saved.path == f"/courses/{ward.courses['L3']}"
    assert "SpO2 97, Dr Oak" in ash.get(f"/courses/{ward.courses['L3']}").text


def test_a_changed_setting_says_what_it_was(ash: Browser, ward: Ward) -> None:
    send(ash, ward, **PLAIN)
    assert "changed, was 12" in beside(look(ash, ward, peep_set="10"), "peep_set")


def test_a_question_about_a_setting_that_the_form_does_not_show_is_answered_over_it(
    ash: Browser, ward: Ward
) -> None:
    # Inspiration of 3.1 s holds from the full check; a brief one does not show it.
    send(ash, ward, **without("flow_rate_set"), inspiratory_time_set="2.9")
    action = f"/courses/{ward.courses['L3']}/assess"
    ash.submit(
        action, accept=[e["value"] for e in ash.last.page.root.all("input") if e["data-letter"]]
    )
    asked = send(ash, ward, "?kind=brief", spo2="94", resp_rate_obs="21")
    over = [e for e in asked.page.root.all("input") if e["id"].startswith("accept-form")]
    assert "leaves no expiration" in " ".join(e.parent.parent.text for e in over)
    assert ash.submit(action, accept=[e["value"] for e in over]).path == action[: -len("/assess")]


# ---------- gases ----------

SLIP = {"gas_specimen": "arterial", "ph": "7.38", "paco2": "40", "pao2": "80"}


def test_a_gas_shows_what_it_is_bound_to_at_the_samples_time(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    send(ash, ward, **PLAIN)
    clock.now += timedelta(minutes=10)
    brief = {"fio2_set": "60", "spo2": "94", "resp_rate_obs": "20"}
    send(ash, ward, "?kind=brief", **brief)
    clock.now += timedelta(minutes=5)
    newer = look(ash, ward, "?kind=gas", **SLIP)
    assert "FiO2 60 %, charted 19:40" in newer.page.text
    assert "FiO2 changed only 5 min before" in newer.page.text
    earlier = look(ash, ward, "?kind=gas", **SLIP, observed_at="2026-11-25T19:35")
    assert "FiO2 45 %, charted 19:30" in earlier.page.text
    assert "178" in earlier.page.text  # 80 / 0.45


def test_a_slip_in_kilopascal_is_read_as_such(ash: Browser, ward: Ward, database: Database) -> None:
    send(ash, ward, **PLAIN)
    slip = {**SLIP, "paco2": "5.3", "pao2": "10.7", "slip_unit": "kPa"}
    assert "read as 5.3 kPa is 40 mmHg" in beside(look(ash, ward, "?kind=gas", **slip), "paco2")
    assert send(ash, ward, "?kind=gas", **slip).path == f"/courses/{ward.courses['L3']}"
    row = stored(database, "pao2")
    assert (row.raw, row.unit_typed, round(row.number)) == ("10.7", "kPa", 80)
    again = ash.get(f"/courses/{ward.courses['L3']}/assess?kind=gas")
    unit = next(e for e in again.page.root.all("select") if e["name"] == "slip_unit")
    assert [o["value"] for o in unit.all("option") if "selected" in o.attributes] == ["kPa"]


@pytest.mark.parametrize(
    ("slip", "code", "said"),
    [
        ({"hco3": "30"}, "hco3", "pH and PaCO2 give"),
        ({"pao2": "299"}, "pao2", "is above what FiO2 45 % allows"),
        ({"gas_specimen": ""}, "gas_specimen", "Which specimen is it?"),
        ({"fio2_at_sample": "60"}, "fio2_at_sample", "in force was FiO2 45 %"),
    ],
)
def test_a_gas_that_does_not_fit_is_asked_beside_its_field(
    ash: Browser, ward: Ward, slip: dict[str, str], code: str, said: str
) -> None:
    send(ash, ward, **PLAIN)
    answer = send(ash, ward, "?kind=gas", **{**SLIP, **slip})
    assert (answer.status, said in beside(answer, code)) == (422, True)


# ---------- while it is typed ----------


def live(browser: Browser, ward: Ward, at: str = "", **typed: str) -> Answer:
    open_form(browser, ward)
    assert browser.last is not None
    token = next(e["value"] for e in browser.last.page.root.all("input") if e["name"] == "csrf")
    return browser.post(
        f"/courses/{ward.courses['L3']}/assess/live",
        {"csrf": token, "kind": "full", "mode_family": "ac_vc", "at": at, **typed},
    )


def test_each_field_is_judged_while_others_are_typed(ash: Browser, ward: Ward) -> None:
    answer = live(ash, ward, peep_set="100", spo2="94")
    assert "PEEP 100" in beside(answer, "peep_set")
    assert beside(answer, "spo2") == ""


def test_the_field_in_hand_is_not_judged_yet(ash: Browser, ward: Ward) -> None:
    answer = live(ash, ward, at="tidal_volume_obs", tidal_volume_obs="4", minute_vent_obs="8.4")
    assert "says-tidal_volume_obs" not in answer.text
    assert beside(answer, "minute_vent_obs") == ""
