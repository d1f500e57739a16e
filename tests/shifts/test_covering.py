"""In a bed that is assigned to a colleague this shift, a therapist says once why they act there."""

from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from sqlalchemy import func, select

from app.actions.assign_beds import Choice, Shift, assign_beds
from app.actions.cover_bed import refused
from app.record.audit import chain
from app.record.database import Database
from app.record.tables import AssessmentRow, CoverRow, HandoffNoteRow, table_of
from app.rules.unit_clock import UnitClock
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.engines import Postgresql, Sqlite
from tests.shifts.checks import PLAIN
from tests.shifts.handing import said
from tests.shifts.test_assignments import ACTION, as_, bed_line, plan
from tests.site import PASSWORD, open_site
from tests.ward import ZONE, Ward, open_ward

COVER, NOTE, ASSESSMENT = (table_of(kind) for kind in (CoverRow, HandoffNoteRow, AssessmentRow))
WORDS = "Stiffer since the turn"


# What is asked of whom does not depend on where the rows are kept.
on_one_engine = pytest.mark.parametrize("engine", ["sqlite"], indirect=True)


@pytest.fixture
def opened(engine: Sqlite | Postgresql, clock: Clock) -> Iterator[tuple[Database, Ward]]:
    """The ward, whose lead planned this shift: L3 is to be with Birch, L5 with Ash."""
    with engine.set_up(f"planned at {clock.now}", lambda made: planned_ward(made, clock)) as found:
        yield found


def planned_ward(database: Database, clock: Clock) -> Ward:
    ward = open_ward(database, clock)
    rounds = UnitClock(ZONE)
    shift = Shift(ward.unit_id, rounds.shift_start(clock.now), rounds.shift_end(clock.now))
    chosen = {bed: Choice(ward.staff[name]) for bed, name in {"L3": "birch", "L5": "ash"}.items()}
    with database.writing(clock, ward.staff["cedar"]) as writing:
        assign_beds(writing, shift, chosen)
    return ward


@pytest.fixture
def app(request: pytest.FixtureRequest, database: Database, clock: Clock, ward: Ward) -> FastAPI:
    """A site that asks for two of the record number where a test says so."""
    return open_site(database, clock, identity_digits=getattr(request, "param", 0))


def note_action(ward: Ward, bed: str = "L3") -> str:
    return f"/courses/{ward.courses[bed]}/handoff/notes"


def write(browser: Browser, ward: Ward, bed: str = "L3") -> Answer:
    browser.get(f"/courses/{ward.courses[bed]}/handoff")
    return browser.submit(note_action(ward, bed), words=WORDS)


def count(database: Database, table) -> int:
    with database.reading() as session:
        return session.execute(select(func.count()).select_from(table)).scalar_one()


def test_what_is_written_in_a_colleagues_bed_waits_for_a_reason_and_is_not_lost(
    ash: Browser, ward: Ward, database: Database
) -> None:
    asked = write(ash, ward)
    assert asked.status == 422
    assert "L3 is assigned to Birch this shift" in asked.page.text
    assert "holds until 26 Nov 07:00" in asked.page.text
    assert WORDS in asked.text
    saved = ash.submit(note_action(ward), cover="busy", cover_words="at the scanner")
    assert (saved.status, count(database, NOTE)) == (200, 1)
    assert write(ash, ward).status == 200


def test_everybody_sees_who_covers_and_why_and_the_audit_says_it_too(
    ash: Browser, ward: Ward, database: Database
) -> None:
    write(ash, ward)
    ash.submit(note_action(ward), cover="busy", cover_words="at the scanner")
    words = "Ash covers L3 for Birch until 26 Nov 07:00: they are busy or away, at the scanner"
    birch = as_(ash, "birch")
    for address in ("/mine", "/scan", ACTION, f"/courses/{ward.courses['L3']}"):
        assert words in birch.get(address).page.text, address
    assert "you cover" not in ash.get("/mine").page.text
    with database.reading() as session:
        acts = [(line["act"], line["course_id"]) for line in chain(session)]
    assert ("cover_bed", ward.courses["L3"]) in acts


@pytest.mark.parametrize(
    ("reason", "words", "told"),
    [
        ("", "at the scanner", "Choose why"),
        ("teatime", "", "Choose why"),
        ("other", "  ", "Say the other reason"),
        ("asked", "x" * 201, "Say it shorter"),
        ("asked", "x" * 200, ""),
        ("other", "second look", ""),
    ],
)
def test_a_reason_that_says_nothing_is_none(reason: str, words: str, told: str) -> None:
    assert refused(reason, words).startswith(told)
    assert bool(refused(reason, words)) == bool(told)


@on_one_engine
def test_what_was_typed_beside_a_reason_that_is_none_stays(
    ash: Browser, ward: Ward, database: Database
) -> None:
    write(ash, ward)
    asked = ash.submit(note_action(ward), cover="", cover_words="at the scanner")
    assert (asked.status, count(database, COVER)) == (422, 0)
    assert "Choose why" in next(e.text for e in asked.page.root.all() if e["id"] == "error-cover")
    assert "at the scanner" in asked.text
    assert WORDS in asked.text


def test_the_check_form_asks_in_itself_and_keeps_what_was_typed(
    ash: Browser, ward: Ward, database: Database
) -> None:
    action = f"/courses/{ward.courses['L3']}/assess"
    assert "L3 is assigned to Birch" in ash.get(action).page.text
    refused = ash.submit(action, **PLAIN)
    assert (refused.status, count(database, ASSESSMENT)) == (422, 0)
    assert "Choose why you act in this bed." in refused.page.text
    assert ash.submit(action, cover="asked").status == 200
    assert count(database, ASSESSMENT) == 1
    assert "Why in this bed?" not in ash.get(action).page.text


@on_one_engine
@pytest.mark.parametrize("bed", ["L5", "L6"])
def test_nothing_is_asked_in_ones_own_bed_nor_in_one_that_is_nobodys(
    ash: Browser, ward: Ward, bed: str
) -> None:
    assert write(ash, ward, bed).status == 200


@on_one_engine
def test_nothing_is_asked_of_who_takes_the_bed_and_has_it_or_of_a_lead(
    ash: Browser, ward: Ward
) -> None:
    assert write(as_(ash, "cedar"), ward).status == 200
    assert said(ash, ward, "L3", "take", "Birch is away").status == 200
    assert "Ash has it; assigned to Birch" in bed_line(ash.get("/scan"), "L3")
    assert write(ash, ward).status == 200


@on_one_engine
def test_nothing_is_asked_of_who_covers_for_that_colleague(ash: Browser, ward: Ward) -> None:
    page = ash.get(ACTION)
    day = next(e["value"] for e in page.page.root.all("input") if e["name"] == "from_at")
    ash.submit(
        "/assignments/covers",
        staff=ward.staff["ash"],
        **{"for": ward.staff["birch"]},
        to_at=f"{day}T21:30",
        words="transport",
    )
    assert write(ash, ward).status == 200


def test_a_reason_ends_with_the_shift_and_with_its_taking_back(
    ash: Browser, ward: Ward, clock: Clock
) -> None:
    write(ash, ward)
    ash.submit(note_action(ward), cover="asked")
    plan(as_(ash, "cedar"), ward, "next", L3="birch")
    clock.forward(hours=12)
    ash.sign_in("ash", PASSWORD)
    assert write(ash, ward).status == 422
    ash.submit(note_action(ward), cover="asked")
    page = ash.get(ACTION)
    end = next(f["action"] for f in page.page.root.all("form") if f["action"].endswith("/end"))
    ash.submit(end)
    assert write(ash, ward).status == 422


@on_one_engine
def test_another_person_and_another_bed_are_asked_again(ash: Browser, ward: Ward) -> None:
    write(ash, ward)
    ash.submit(note_action(ward), cover="asked")
    plan(as_(ash, "cedar"), ward, L3="cedar", L6="birch")
    assert "assigned to Cedar" in write(ash, ward).page.text
    assert "L6 is assigned to Birch" in write(ash, ward, "L6").page.text


@on_one_engine
def test_a_tube_that_comes_out_waits_for_nothing(ash: Browser, ward: Ward) -> None:
    action = f"/courses/{ward.courses['L3']}/tube-out"
    ash.get(action)
    assert ash.submit(action).path == f"/courses/{ward.courses['L3']}"
    assert write(ash, ward).status == 422


@on_one_engine
@pytest.mark.parametrize("app", [2], indirect=True)
def test_both_questions_stand_on_one_page_and_a_wrong_number_loses_no_reason(
    database: Database, ward: Ward, ash: Browser
) -> None:
    asked = write(ash, ward)
    names = [e["name"] for e in asked.page.root.all() if e["id"].startswith("f-")]
    assert names == ["identity", "cover", "cover_words"]
    wrong = ash.submit(note_action(ward), identity="71", cover="round")
    chosen = [e["value"] for e in wrong.page.root.all("option") if "selected" in e.attributes]
    assert (wrong.status, chosen, count(database, COVER)) == (422, ["round"], 0)
    assert ash.submit(note_action(ward), identity="86").status == 200
    assert (count(database, COVER), count(database, NOTE)) == (1, 1)


@on_one_engine
@pytest.mark.parametrize("app", [2], indirect=True)
def test_a_right_number_is_not_asked_for_again_while_the_reason_is_missing(
    ward: Ward, ash: Browser
) -> None:
    write(ash, ward)
    left = ash.submit(note_action(ward), identity="86")
    assert next(left.page.root.all("h1")).text == "Whose bed is this?"
    assert "identity" not in [e["name"] for e in left.page.root.all("input")]
    assert ash.submit(note_action(ward), cover="emergency").status == 200
