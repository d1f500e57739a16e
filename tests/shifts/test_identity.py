"""Whose chart it is: asked before the first save on a patient, once, and two tabs cannot cross."""

import pytest
from fastapi import FastAPI
from sqlalchemy import func, select

from app.record.database import Database
from app.record.tables import HandoffNoteRow, table_of
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.site import PASSWORD, open_site
from tests.ward import Ward

NOTE = table_of(HandoffNoteRow)
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


def notes(database: Database) -> int:
    with database.reading() as session:
        return session.execute(select(func.count()).select_from(NOTE)).scalar_one()


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
