"""Whose chart it is: asked before the first save on a patient, once, and two tabs cannot cross."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from fastapi import FastAPI
from sqlalchemy import func, select

from app.record.courses import find_course
from app.record.database import Database
from app.record.errors import NotWritable
from app.record.tables import AssessmentRow, HandoffNoteRow, PatientDetailsRow, table_of
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN, chart
from tests.site import PASSWORD, open_site
from tests.ward import Ward

NOTE, ASSESSMENT = table_of(HandoffNoteRow), table_of(AssessmentRow)
RIGHT, WRONG = "86", "71"
"""The end of the record number in L3, and that in L5."""


@pytest.fixture
def app(database: Database, clock: Clock, ward: Ward) -> FastAPI:
    """The app of a site that asks for two of the record number."""
    return open_site(database, clock, identity_digits=2)


def note_action(ward: Ward, bed: str = "L3") -> str:
    return f"/courses/{ward.courses[bed]}/handoff/notes"


def write(browser: Browser, ward: Ward, words: str, bed: str = "L3", **more: str) -> Answer:
    browser.get(f"/courses/{ward.courses[bed]}/handoff")
    return browser.submit(note_action(ward, bed), words=words, **more)


def check_action(ward: Ward, bed: str = "L3") -> str:
    return f"/courses/{ward.courses[bed]}/assess"


def count(database: Database, table) -> int:
    with database.reading() as session:
        return session.execute(select(func.count()).select_from(table)).scalar_one()


def notes(database: Database) -> int:
    return count(database, NOTE)


def checks(database: Database) -> int:
    return count(database, ASSESSMENT)


def the_field(answer: Answer):
    return next(e for e in answer.page.root.all("input") if e["name"] == "identity")


def beside(answer: Answer) -> str:
    ids = the_field(answer)["aria-describedby"].split()
    return " ".join(e.text for e in answer.page.root.all() if e["id"] in ids)


def test_the_first_words_on_a_patient_wait_until_it_is_said_whose_chart_it_is(
    ash: Browser, ward: Ward, database: Database
) -> None:
    asked = write(ash, ward, "Stiffer since the turn")
    assert (asked.status, notes(database)) == (422, 0)
    assert "autofocus" in the_field(asked).attributes
    assert "Stiffer since the turn" in asked.text


def test_the_answer_saves_them_and_is_not_asked_again(
    ash: Browser, ward: Ward, database: Database
) -> None:
    write(ash, ward, "Stiffer since the turn")
    saved = ash.submit(note_action(ward), identity=RIGHT)
    assert (saved.path, notes(database)) == (f"/courses/{ward.courses['L3']}/handoff", 1)
    assert write(ash, ward, "Softer again").status == 200
    assert notes(database) == 2


@pytest.mark.parametrize("typed", [WRONG, "6", "2", "P-01"])
def test_a_wrong_answer_says_so_and_not_what_is_right(
    ash: Browser, ward: Ward, database: Database, typed: str
) -> None:
    write(ash, ward, "Stiffer")
    refused = ash.submit(note_action(ward), identity=typed)
    assert (refused.status, notes(database)) == (422, 0)
    assert "ends otherwise" in beside(refused)
    assert the_field(refused)["value"] == typed
    assert RIGHT not in beside(refused)


def test_the_third_wrong_answer_leads_back_to_the_band(ash: Browser, ward: Ward) -> None:
    write(ash, ward, "Stiffer")
    told = [beside(ash.submit(note_action(ward), identity=WRONG)) for _ in range(3)]
    assert ["on the band with" in words for words in told] == [False, False, True]
    assert RIGHT not in told[2]


def test_an_answer_holds_for_one_patient_only(ash: Browser, ward: Ward, database: Database) -> None:
    write(ash, ward, "Stiffer")
    ash.submit(note_action(ward), identity=RIGHT)
    assert write(ash, ward, "Quiet night", bed="L5").status == 422
    assert notes(database) == 1


def test_an_answer_holds_for_one_session_only(ash: Browser, ward: Ward) -> None:
    write(ash, ward, "Stiffer")
    ash.submit(note_action(ward), identity=RIGHT)
    ash.get("/")
    ash.submit("/sign-out")
    ash.sign_in("ash", PASSWORD)
    assert write(ash, ward, "Softer").status == 422


def test_an_answer_of_one_person_is_none_of_another(ash: Browser, ward: Ward) -> None:
    write(ash, ward, "Stiffer")
    ash.submit(note_action(ward), identity=RIGHT)
    birch = ash.another()
    birch.sign_in("birch", PASSWORD)
    assert write(birch, ward, "Softer").status == 422


def test_a_form_of_one_patient_sent_to_another_saves_nothing_on_either(
    ash: Browser, ward: Ward, database: Database
) -> None:
    first = ash.get(f"/courses/{ward.courses['L3']}/handoff")
    form = first.page.form(note_action(ward, "L3"))
    sent = {e["name"]: e["value"] for e in form.all("input")}
    crossed = ash.post(note_action(ward, "L5"), {**sent, "words": "Stiffer", "identity": WRONG})
    assert (crossed.status, notes(database)) == (409, 0)
    assert "opened for another patient" in crossed.text
    assert "Stiffer" in crossed.text


def test_a_form_that_does_not_say_whose_it_is_saves_nothing(
    ash: Browser, ward: Ward, database: Database
) -> None:
    form = ash.get(f"/courses/{ward.courses['L3']}/handoff").page.form(note_action(ward))
    sent = {e["name"]: e["value"] for e in form.all("input") if e["name"] != "course"}
    answer = ash.post(note_action(ward), {**sent, "words": "Stiffer", "identity": RIGHT})
    assert (answer.status, notes(database)) == (409, 0)


def test_the_check_form_asks_in_its_own_first_field(ash: Browser, ward: Ward) -> None:
    form = ash.get(check_action(ward)).page.form(check_action(ward))
    shown = [e for e in form.all("input", "select") if e["type"] != "hidden"]
    assert shown[0]["name"] == "identity"
    assert "Last two of the record number" in form.text


def test_a_check_without_the_answer_comes_back_with_every_word_and_the_focus_there(
    ash: Browser, ward: Ward, database: Database
) -> None:
    asked = chart(ash, ward)
    assert (asked.status, asked.path, checks(database)) == (422, check_action(ward), 0)
    assert "data-focus-first" in the_field(asked).attributes
    assert "asked once for each patient" in beside(asked)
    typed = {e["name"]: e["value"] for e in asked.page.form(check_action(ward)).all("input")}
    assert {code: typed[code] for code in ("tidal_volume_obs", "peep_set", "spo2")} == {
        "tidal_volume_obs": "420",
        "peep_set": "12",
        "spo2": "94",
    }


def test_a_check_with_the_wrong_answer_keeps_it_and_says_so(
    ash: Browser, ward: Ward, database: Database
) -> None:
    refused = chart(ash, ward, identity=WRONG)
    assert (refused.status, checks(database)) == (422, 0)
    assert the_field(refused)["value"] == WRONG
    assert the_field(refused)["aria-invalid"] == "true"
    assert "ends otherwise" in beside(refused)
    assert RIGHT not in beside(refused)


def test_a_check_with_the_answer_is_saved_and_what_follows_is_not_asked(
    ash: Browser, ward: Ward, database: Database
) -> None:
    assert chart(ash, ward, identity=RIGHT).path == f"/courses/{ward.courses['L3']}"
    form = ash.get(check_action(ward)).page.form(check_action(ward))
    assert "identity" not in [element["name"] for element in form.all("input")]
    assert write(ash, ward, "Stiffer").status == 200
    assert (checks(database), notes(database)) == (1, 1)


def test_the_answer_holds_even_where_the_check_itself_is_held_up(
    ash: Browser, ward: Ward, database: Database
) -> None:
    held = chart(ash, ward, identity=RIGHT, peep_set="100")
    assert (held.status, checks(database)) == (422, 0)
    assert "identity" not in [element["name"] for element in held.page.root.all("input")]
    ash.submit(check_action(ward), peep_set="12")
    assert checks(database) == 1


def test_showing_other_fields_asks_nothing_and_keeps_the_answer(ash: Browser, ward: Ward) -> None:
    ash.get(check_action(ward))
    shown = ash.submit(check_action(ward), identity=RIGHT, mode_family="csv_ps", press="family")
    assert (shown.status, the_field(shown)["value"]) == (200, RIGHT)


def test_two_tabs_on_two_patients_cannot_cross(
    ash: Browser, ward: Ward, database: Database
) -> None:
    """Both open at once: each saves on its own, and neither can be made to save on the other."""
    left = ash.get(check_action(ward, "L3"))
    right = ash.get(check_action(ward, "L5"))
    sent = {e["name"]: e["value"] for e in left.page.form(check_action(ward, "L3")).all("input")}
    crossed = ash.post(check_action(ward, "L5"), {**sent, **PLAIN, "identity": WRONG})
    assert (crossed.status, checks(database)) == (409, 0)
    ash.last = left
    assert ash.submit(check_action(ward, "L3"), **PLAIN, identity=RIGHT).path.endswith(
        ward.courses["L3"]
    )
    ash.last = right
    other = ash.submit(check_action(ward, "L5"), **{**PLAIN, "spo2": "91"}, identity=RIGHT)
    assert (other.status, checks(database)) == (422, 1)
    assert ash.submit(check_action(ward, "L5"), identity=WRONG).path.endswith(ward.courses["L5"])
    with database.reading() as session:
        saved = session.execute(select(ASSESSMENT.c.course_id)).scalars().all()
    assert sorted(saved) == sorted([ward.courses["L3"], ward.courses["L5"]])


@pytest.mark.parametrize(
    ("form", "typed"),
    [
        ("offer", {"level": "low", "reason": "Steady all shift"}),
        ("tasks", {"words": "Cuff pressure at midnight"}),
        ("if-then", {"measure": "SpO2", "action": "raise FiO2 as ordered", "call": "Dr Oak"}),
    ],
)
def test_what_is_planned_and_offered_asks_too(
    ash: Browser, ward: Ward, form: str, typed: dict[str, str]
) -> None:
    page = f"/courses/{ward.courses['L3']}/handoff"
    names = {e["name"] for e in ash.get(page).page.form(f"{page}/{form}").all()}
    asked = ash.submit(f"{page}/{form}", **{k: v for k, v in typed.items() if k in names})
    assert asked.status == 422
    assert the_field(asked)["name"] == "identity"
    assert ash.submit(f"{page}/{form}", identity=WRONG).status == 422


def test_a_patient_without_a_record_number_is_not_asked_for_one(
    ash: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    with database.writing(clock, ward.staff["ash"]) as writing:
        patient = find_course(writing.session, ward.courses["L3"]).patient_id
        writing.add(PatientDetailsRow(patient_id=patient, name="Unknown, found at Lime Street"))
        writing.audit("describe_patient", course_id=ward.courses["L3"])
    assert chart(ash, ward).path == f"/courses/{ward.courses['L3']}"


def test_where_nothing_can_be_written_a_right_answer_still_leads_to_what_is_wrong(
    ash: Browser, ward: Ward, database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    @contextmanager
    def refuse(*_args: object, **_more: object) -> Iterator[None]:
        raise NotWritable("the disk is full")
        yield

    ash.get(check_action(ward))
    monkeypatch.setattr(database, "writing", refuse)
    answer = ash.submit(check_action(ward), **PLAIN, identity=RIGHT)
    assert answer.status == 503
    assert "the disk is full" in answer.text


@pytest.mark.parametrize(
    ("page", "typed", "words"),
    [
        ("episodes", {"act": "away.begin", "away_to": "CT"}, ("What Left the unit", "CT")),
        ("liberation", {"act": "extubation", "breathes_now": "high_flow"}, ("High flow, nasal",)),
        ("events", {"kind": "suction"}, ("What happened Suction",)),
    ],
)
def test_what_waits_is_told_in_words(ash: Browser, ward: Ward, page, typed, words) -> None:
    action = f"/courses/{ward.courses['L3']}/{page}"
    ash.get(f"{action}?act={typed.get('act', '')}")
    asked = ash.submit(action, observed_at="2026-11-25T19:20", **typed)
    told = " ".join(asked.page.text.split())
    assert all(each in told for each in (*words, "25 Nov 2026, 19:20"))
    assert not [raw for raw in typed.values() if "." in raw and raw in told]
