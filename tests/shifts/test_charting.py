"""A check at the bed: refused, asked, kept, explained, sent twice; nothing typed is ever lost."""

import pytest
from sqlalchemy import func, select

from app.record.database import Database
from app.record.tables import AssessmentRow, table_of
from tests.client import Answer, Browser
from tests.shifts.checks import PLAIN, without_plateau
from tests.ward import Ward

ASSESSMENT = table_of(AssessmentRow)


def rows(database: Database) -> int:
    with database.reading() as session:
        return session.execute(select(func.count()).select_from(ASSESSMENT)).scalar_one()


def send(browser: Browser, ward: Ward, bed: str = "L3", **typed: str | list[str]) -> Answer:
    action = f"/courses/{ward.courses[bed]}/assess"
    browser.get(action)
    return browser.submit(action, **typed)


def field(answer: Answer, code: str):
    return next(element for element in answer.page.root.all("input") if element["name"] == code)


def described(answer: Answer, code: str) -> str:
    ids = field(answer, code)["aria-describedby"].split()
    return " ".join(e.text for e in answer.page.root.all() if e["id"] in ids)


def test_a_value_out_of_range_is_refused_beside_its_field_and_stays_typed(
    ash: Browser, ward: Ward, database: Database
) -> None:
    answer = send(ash, ward, **{**PLAIN, "peep_set": "100"})
    assert answer.status == 422
    assert "PEEP 100" in described(answer, "peep_set")
    assert field(answer, "peep_set")["value"] == "100"
    assert field(answer, "peep_set")["aria-invalid"] == "true"
    assert field(answer, "tidal_volume_obs")["value"] == "420"
    assert rows(database) == 0


def test_a_refusal_is_in_the_summary_and_leads_to_its_field(ash: Browser, ward: Ward) -> None:
    answer = send(ash, ward, **{**PLAIN, "peep_set": "100"})
    leads = [link["href"] for link in answer.page.root.all("a") if "PEEP" in link.text]
    assert "#f-peep_set" in leads


@pytest.mark.parametrize(
    ("code", "typed", "said"),
    [
        ("ph", "735", "7.35"),
        ("fio2_set", "1", "100 %"),
        ("tidal_volume_obs", "40", "40 mL"),
    ],
)
def test_what_looks_mistyped_is_asked_and_nothing_is_saved(
    ash: Browser, ward: Ward, database: Database, code: str, typed: str, said: str
) -> None:
    kind = "?kind=gas" if code == "ph" else ""
    action = f"/courses/{ward.courses['L3']}/assess"
    ash.get(action + kind)
    known = {} if kind else {k: v for k, v in PLAIN.items() if k != code}
    answer = ash.submit(action, **{**known, code: typed})
    assert said in described(answer, code)
    assert (answer.status, rows(database)) == (422, 0)


def test_an_answered_question_is_saved_with_its_answer(
    ash: Browser, ward: Ward, database: Database
) -> None:
    asked = send(ash, ward, **{**PLAIN, "fio2_set": "1"})
    action = f"/courses/{ward.courses['L3']}/assess"
    keys = [e["value"] for e in asked.page.form(action).all("input") if e["name"] == "accept"]
    saved = ash.submit(action, accept=keys)
    assert (saved.path, rows(database)) == (f"/courses/{ward.courses['L3']}", 1)


def head_said(answer: Answer) -> list[str]:
    """What the head of a page says has just happened."""
    return [e.text for e in answer.page.root.all("p") if e["class"] == "said"]


def test_the_bed_page_says_what_was_saved(ash: Browser, ward: Ward) -> None:
    """A therapist who saved at four in the morning must not have to look for the row."""
    assert head_said(send(ash, ward, **PLAIN)) == ["Saved: full check of 19:30."]


@pytest.mark.parametrize("row", ["", "0123", "no such row"])
def test_nothing_is_said_of_a_row_that_is_not_there(ash: Browser, ward: Ward, row: str) -> None:
    assert head_said(ash.get(f"/courses/{ward.courses['L3']}?saved={row}")) == []


def test_a_fraction_is_read_as_percent(ash: Browser, ward: Ward) -> None:
    answer = send(ash, ward, **{**PLAIN, "fio2_set": "0.45"})
    assert answer.path == f"/courses/{ward.courses['L3']}"
    assert "45" in answer.text


def test_the_same_form_sent_twice_makes_one_row(
    ash: Browser, ward: Ward, database: Database
) -> None:
    action = f"/courses/{ward.courses['L3']}/assess"
    form = ash.get(action)
    ash.submit(action, **PLAIN)
    ash.last = form
    again = ash.submit(action, **PLAIN)
    assert (again.status, again.path) == (200, f"/courses/{ward.courses['L3']}")
    assert rows(database) == 1


def test_the_same_key_with_other_content_is_refused_and_leads_to_the_saved_row(
    ash: Browser, ward: Ward, database: Database
) -> None:
    action = f"/courses/{ward.courses['L3']}/assess"
    form = ash.get(action)
    ash.submit(action, **PLAIN)
    ash.last = form
    refused = ash.submit(action, **{**PLAIN, "spo2": "91"})
    assert refused.status == 422
    assert field(refused, "spo2")["value"] == "91"
    assert f"/courses/{ward.courses['L3']}" in [a["href"] for a in refused.page.root.all("a")]
    assert rows(database) == 1


def test_a_kept_setting_is_confirmed_and_a_measured_value_never_is(
    ash: Browser, ward: Ward
) -> None:
    send(ash, ward, **PLAIN)
    action = f"/courses/{ward.courses['L3']}/assess"
    ash.get(action)
    offered = {e["value"] for e in ash.last.page.form(action).all("input") if e["name"] == "keep"}
    assert {"fio2_set", "peep_set", "tidal_volume_set"} <= offered
    assert not offered & {"spo2", "tidal_volume_obs", "plateau_pressure_obs", "cuff_pressure_cmh2o"}


def test_a_plateau_that_was_not_done_says_why_and_the_bed_cannot_be_judged(
    ash: Browser, ward: Ward
) -> None:
    send(ash, ward, **without_plateau("effort"))
    assert "Cannot be judged: plateau not done: effort" in ash.get("/").text


def test_an_unanswered_hold_gives_no_driving_pressure(ash: Browser, ward: Ward) -> None:
    typed = {k: v for k, v in PLAIN.items() if k != "hold_passive"}
    answer = send(ash, ward, **typed)
    assert answer.status == 422
    assert "passive" in answer.text


def test_a_form_with_nothing_in_it_saves_nothing(
    ash: Browser, ward: Ward, database: Database
) -> None:
    answer = send(ash, ward)
    assert (answer.status, rows(database)) == (422, 0)


def observed(answer: Answer) -> str:
    """What stands in the two boxes of the time."""
    day, clock = (field(answer, name)["value"] for name in ("observed_at", "observed_at.time"))
    return f"{day}T{clock}" if clock else day


def test_a_time_still_to_come_is_refused(ash: Browser, ward: Ward, database: Database) -> None:
    answer = send(ash, ward, **PLAIN, observed_at="2026-11-25T20:30")
    assert (answer.status, rows(database)) == (422, 0)
    assert observed(answer) == "2026-11-25T20:30"


@pytest.mark.parametrize("text", ["noT7 pm", "2026-13-01T00:00", "2026-03-08T02:30"])
def test_a_time_that_is_none_is_refused_with_its_text_kept(
    ash: Browser, ward: Ward, database: Database, text: str
) -> None:
    answer = send(ash, ward, **PLAIN, observed_at=text)
    assert (answer.status, rows(database)) == (422, 0)
    assert observed(answer) == text


@pytest.mark.parametrize("path", ["/beds/L99", "/courses/nobody", "/courses/nobody/assess"])
def test_an_unknown_bed_or_course_is_not_here_and_shows_a_way_back(ash: Browser, path: str) -> None:
    answer = ash.get(path)
    assert answer.status == 404
    assert "/" in [link["href"] for link in answer.page.root.all("a")]


def test_an_empty_bed_says_so(ash: Browser) -> None:
    assert "L11 is empty" in ash.get("/beds/L11").text
