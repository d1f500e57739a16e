"""What somebody typed and did not save: kept for them and that patient, and for nobody else."""

import json
from datetime import timedelta

import pytest
from sqlalchemy import select, text

from app.actions.keep_draft import KEPT_FOR, LONGEST
from app.record.database import Database
from app.record.tables import DraftRow, table_of
from tests.client import Answer, Browser, filled_in
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD
from tests.ward import Ward

DRAFT = table_of(DraftRow)
HALF = {"spo2": "93", "plateau_pressure_obs": "27", "peep_set": "12"}


def drafts(database: Database) -> list:
    with database.reading() as session:
        return list(session.execute(select(DRAFT)).all())


def address(ward: Ward, bed: str = "L3") -> str:
    return f"/courses/{ward.courses[bed]}/assess"


def leave_half(browser: Browser, ward: Ward, bed: str = "L3", kind: str = "", **typed) -> Answer:
    """Open a form, type into it, and let the page keep it as it does by itself."""
    action = address(ward, bed)
    form = browser.get(f"{action}{kind}").page.form(action)
    sent = {**filled_in(form), **(typed or HALF)}
    headers = {"HX-Request": "true", "Sec-Fetch-Site": "same-origin"}
    return browser.send("POST", f"{action}/draft", data=sent, headers=headers)


def value(answer: Answer, name: str) -> str:
    inputs = answer.page.root.all("input")
    return next(element["value"] for element in inputs if element["name"] == name)


def test_what_was_typed_is_there_again_for_the_same_person(ash: Browser, ward: Ward) -> None:
    said = leave_half(ash, ward)
    assert "kept for you 19:30, not saved" in said.page.text
    again = ash.get(address(ward))
    assert {name: value(again, name) for name in HALF} == HALF
    assert "Not saved yet: typed 19:30" in again.page.text


@pytest.mark.parametrize(("minutes", "told"), [(14, False), (15, True), (22, True)])
def test_after_a_quarter_of_an_hour_the_form_says_to_look_again(
    ash: Browser, ward: Ward, clock: Clock, minutes: int, told: bool
) -> None:
    leave_half(ash, ward)
    clock.forward(minutes=minutes)
    if ash.get("/courses").path == "/sign-in":
        ash.sign_in("ash", PASSWORD)
    again = ash.get(address(ward))
    assert value(again, "spo2") == "93"
    assert ("Look again before you save" in again.page.text) is told


def test_the_time_observed_stays_the_time_at_which_it_was_seen(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    leave_half(ash, ward)
    clock.forward(minutes=12)
    form = ash.get(address(ward))
    assert (value(form, "observed_at"), value(form, "observed_at.time")) == ("2026-11-25", "19:30")


def test_nobody_else_sees_it_not_even_on_the_same_tablet(ash: Browser, ward: Ward) -> None:
    leave_half(ash, ward)
    ash.get("/")
    ash.submit("/sign-out")
    ash.sign_in("birch", PASSWORD)
    form = ash.get(address(ward))
    assert value(form, "spo2") == ""
    assert "Not saved yet" not in form.page.text


def test_it_belongs_to_one_patient_and_one_kind_of_form(ash: Browser, ward: Ward) -> None:
    leave_half(ash, ward)
    assert value(ash.get(address(ward, "L5")), "spo2") == ""
    assert "Not saved yet" not in ash.get(f"{address(ward)}?kind=gas").page.text


def test_a_gas_is_kept_beside_a_check(ash: Browser, ward: Ward, database: Database) -> None:
    leave_half(ash, ward)
    leave_half(ash, ward, kind="?kind=gas", ph="7.31", paco2="52")
    assert {row.kind for row in drafts(database)} == {"full", "gas"}
    assert value(ash.get(f"{address(ward)}?kind=gas"), "ph") == "7.31"
    assert value(ash.get(address(ward)), "spo2") == "93"


def test_it_outlives_the_end_of_the_session(ash: Browser, ward: Ward, clock: Clock) -> None:
    leave_half(ash, ward)
    clock.forward(minutes=15)
    assert ash.get(address(ward)).path == "/sign-in"
    ash.sign_in("ash", PASSWORD)
    assert value(ash.get(address(ward)), "plateau_pressure_obs") == "27"


def test_saving_the_check_drops_it(ash: Browser, ward: Ward, database: Database) -> None:
    leave_half(ash, ward)
    ash.get(address(ward))
    ash.submit(address(ward), **PLAIN)
    assert drafts(database) == []


def test_a_check_that_is_held_up_keeps_it(ash: Browser, ward: Ward, database: Database) -> None:
    leave_half(ash, ward)
    ash.get(address(ward))
    held = ash.submit(address(ward), **{**PLAIN, "peep_set": "100"})
    assert (held.status, len(drafts(database))) == (422, 1)


def test_a_page_that_still_sends_a_saved_form_brings_nothing_back(
    ash: Browser, ward: Ward, database: Database
) -> None:
    """The last request of a closing page may arrive after the save that closed it."""
    form = ash.get(address(ward))
    sent = {**filled_in(form.page.form(address(ward))), **PLAIN}
    ash.submit(address(ward), **PLAIN)
    late = ash.send("POST", f"{address(ward)}/draft", data=sent)
    assert (late.status, late.page.text.strip(), drafts(database)) == (200, "", [])


def test_a_reopened_form_is_saved_once_however_it_is_sent(
    ash: Browser, ward: Ward, database: Database
) -> None:
    leave_half(ash, ward)
    first = ash.get(address(ward))
    ash.submit(address(ward), **PLAIN)
    ash.last = first
    ash.submit(address(ward), **PLAIN)
    with database.reading() as session:
        assert session.execute(text("SELECT count(*) FROM assessment")).scalar_one() == 1


def test_it_can_be_thrown_away(ash: Browser, ward: Ward, database: Database) -> None:
    leave_half(ash, ward)
    ash.get(address(ward))
    empty = ash.submit(f"{address(ward)}/draft/discard")
    assert (empty.path, value(empty, "spo2"), drafts(database)) == (address(ward), "", [])


def test_a_form_that_was_emptied_again_is_not_kept(
    ash: Browser, ward: Ward, database: Database
) -> None:
    leave_half(ash, ward)
    leave_half(ash, ward, **dict.fromkeys(HALF, ""))
    assert drafts(database) == []


def test_the_newest_text_takes_the_place_of_the_one_before(
    ash: Browser, ward: Ward, database: Database
) -> None:
    leave_half(ash, ward)
    leave_half(ash, ward, spo2="90")
    assert value(ash.get(address(ward)), "spo2") == "90"
    assert len(drafts(database)) == 1


def test_neither_proofs_nor_answers_are_kept(ash: Browser, ward: Ward, database: Database) -> None:
    """An answer holds for one moment, the form's token for one session."""
    leave_half(ash, ward, **HALF, accept=["fio2_set:whole:1"])
    (kept,) = drafts(database)
    assert not {"csrf", "accept"} & set(json.loads(kept.typed))


def test_a_tick_is_gone_where_somebody_charted_that_setting_meanwhile(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    ash.get(address(ward))
    ash.submit(address(ward), **PLAIN, inspiratory_time_set="0.9")
    leave_half(ash, ward, keep=["fio2_set", "inspiratory_time_set"])
    clock.forward(minutes=5)
    birch = ash.another()
    birch.sign_in("birch", PASSWORD)
    birch.get(address(ward))
    birch.submit(address(ward), **{**PLAIN, "fio2_set": "60", "spo2": "92", "heart_rate": "91"})
    ticks = ash.get(address(ward)).page.form(address(ward)).all("input")
    ticked = {e["value"] for e in ticks if e["name"] == "keep" and "checked" in e.attributes}
    assert ticked == {"inspiratory_time_set"}


def test_to_be_kept_by_the_page_is_no_sign_of_life(ash: Browser, ward: Ward, clock: Clock) -> None:
    sent = {**filled_in(ash.get(address(ward)).page.form(address(ward))), **HALF}
    for _ in range(14):
        clock.forward(minutes=1)
        assert ash.send("POST", f"{address(ward)}/draft", data=sent).status == 200
    clock.forward(minutes=1)
    assert ash.send("POST", f"{address(ward)}/draft", data=sent).status == 401


def test_it_is_gone_after_a_day(ash: Browser, ward: Ward, clock: Clock, database: Database) -> None:
    leave_half(ash, ward)
    clock.forward(seconds=(KEPT_FOR - timedelta(seconds=1)).total_seconds())
    ash.sign_in("ash", PASSWORD)
    assert value(ash.get(address(ward)), "spo2") == "93"
    clock.forward(seconds=1)
    assert value(ash.get(address(ward)), "spo2") == ""
    clock.forward(seconds=1)
    leave_half(ash, ward, bed="L5")
    assert [row.course_id for row in drafts(database)] == [ward.courses["L5"]]


def test_more_than_any_check_holds_is_refused(ash: Browser, ward: Ward, database: Database) -> None:
    endless = {f"reason.{n}": "x" * 10_000 for n in range(LONGEST // 10_000 + 1)}
    assert leave_half(ash, ward, **HALF, **endless).status == 400
    assert drafts(database) == []


@pytest.mark.parametrize("name", ["oak", "alder"])
def test_whoever_may_not_chart_keeps_no_draft(browser: Browser, ward: Ward, name: str) -> None:
    browser.sign_in(name, PASSWORD)
    csrf = filled_in(browser.get("/no-such-page").page.form("/theme"))["csrf"]
    for action in ("draft", "draft/discard"):
        answer = browser.send("POST", f"{address(ward)}/{action}", data={"csrf": csrf, **HALF})
        assert answer.status == 403


def test_an_unknown_course_keeps_no_draft(ash: Browser, ward: Ward, database: Database) -> None:
    sent = {**filled_in(ash.get(address(ward)).page.form(address(ward))), **HALF}
    assert ash.send("POST", "/courses/nobody/assess/draft", data=sent).status == 404
    assert drafts(database) == []
