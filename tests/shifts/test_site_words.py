"""A site that writes FiO2 as 0.40 and gases in kPa: the same record, the same export."""

from collections.abc import Iterator
from decimal import Decimal
from io import StringIO

import pytest
from sqlalchemy import select

from app.exchange.indices_export import export_indices
from app.main import create_app
from app.record.database import Database
from app.record.judging import judging
from app.record.tables import ReadingRow, table_of
from app.settings import Settings
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD, PASSWORDS, SECRET
from tests.ward import IDENTIFIERS, Ward, facts_of

READING = table_of(ReadingRow)
GAS = {"gas_specimen": "arterial", "ph": "7.34", "paco2": "6.0", "pao2": "12.0", "hco3": "24"}
TYPED = {**PLAIN, "fio2_set": "0.7"}
CALLED = {
    "LIMITS_OF_CARE": "ceilings of care",
    "RECORD_NUMBER": "hospital number",
    "THERAPIST": "Atmungstherapeut",
}


def open_with(database: Database, clock: Clock, **settings) -> Iterator[Browser]:
    given = Settings(
        database_url=str(database.url),
        secret=SECRET,
        demo=True,
        cookie_secure=False,
        identity_digits=0,
        **settings,
    )
    app = create_app(given, database, clock, passwords=PASSWORDS)
    with browsing(app, identifiers=IDENTIFIERS) as browser:
        browser.sign_in("ash", PASSWORD)
        yield browser


@pytest.fixture
def elsewhere(database: Database, clock: Clock, ward: Ward) -> Iterator[Browser]:
    """Ash at a site with its own way to write things."""
    yield from open_with(database, clock, oxygen_as_fraction=True, gas_in_kpa=True, words=CALLED)


@pytest.fixture
def usual(database: Database, clock: Clock, ward: Ward) -> Iterator[Browser]:
    """Ash at a site as it is shipped."""
    yield from open_with(database, clock)


def course(ward: Ward) -> str:
    return f"/courses/{ward.courses['L3']}"


def chart(browser: Browser, ward: Ward, kind: str = "", **typed: str) -> None:
    action = f"{course(ward)}/assess"
    browser.get(action + kind)
    answer = browser.submit(action, **typed)
    keys = [e["value"] for e in answer.page.root.all("input") if e["name"] == "accept"]
    if keys:
        answer = browser.submit(action, accept=keys)
    assert answer.path == course(ward), answer.page.text


def chart_both(browser: Browser, ward: Ward, gas: dict[str, str]) -> None:
    chart(browser, ward, **TYPED)
    chart(browser, ward, "?kind=gas", **gas)


def stored(database: Database) -> dict[str, Decimal]:
    with database.reading() as session:
        rows = session.execute(select(READING.c.field, READING.c.number)).all()
    return {field: number for field, number in rows if number is not None}


def exported(database: Database, clock: Clock, ward: Ward) -> str:
    out = StringIO()
    with database.reading() as session:
        export_indices(session, judging(session, ward.unit_id, clock()), out)
    return out.getvalue()


def test_what_is_typed_in_the_sites_way_is_stored_canonical(
    elsewhere: Browser, ward: Ward, database: Database
) -> None:
    chart_both(elsewhere, ward, GAS)
    kept = stored(database)
    assert kept["fio2_set"] == Decimal(70)
    assert kept["pao2"] == Decimal("90.0074")
    assert kept["paco2"] == Decimal("45.0037")


def test_the_same_readings_are_shown_both_ways(
    elsewhere: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    chart_both(elsewhere, ward, GAS)
    pages = {
        path: elsewhere.get(path).page.text
        for path in ("/", course(ward), f"{course(ward)}/handoff", f"{course(ward)}/assess")
    }
    assert "FiO2 0.70" in pages["/"]
    assert "over 0.60" in pages["/"]
    assert "over 0.60" in pages[course(ward)]
    assert "12.0" in pages[course(ward)]
    assert "FiO2 0.70" in pages[f"{course(ward)}/handoff"]
    assert "0.70, 19:30" in pages[f"{course(ward)}/assess"]
    for path, text in pages.items():
        assert "over 60" not in text, path
    for browser in open_with(database, clock):
        assert "over 60" in browser.get("/").page.text
        assert "90 mmHg" in browser.get(course(ward)).page.text


def test_a_blood_gas_is_typed_in_the_sites_unit_unless_the_slip_says_otherwise(
    elsewhere: Browser, ward: Ward
) -> None:
    form = elsewhere.get(f"{course(ward)}/assess?kind=gas").page
    slip = next(e for e in form.root.all("select") if e["name"] == "slip_unit")
    chosen = [e["value"] for e in slip.all("option") if "selected" in e.attributes]
    assert chosen == ["kPa"]


def test_the_export_is_the_same_to_the_last_digit(
    elsewhere: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    chart_both(elsewhere, ward, GAS)
    before = exported(database, clock, ward)
    for browser in open_with(database, clock):
        browser.get("/")
        assert exported(database, clock, ward) == before
    assert "0.70" not in before.splitlines()[1]


@pytest.mark.parametrize("path", ["", "/events", "/then"])
def test_a_site_calls_things_by_its_own_names(elsewhere: Browser, ward: Ward, path: str) -> None:
    text = elsewhere.get(f"{course(ward)}{path}").page.text
    assert "ceilings of care: Full treatment" in text
    assert "hospital number LR-2086" in text
    assert "Ash, Atmungstherapeut" in text


def test_a_site_as_it_is_shipped_calls_them_as_usual(usual: Browser, ward: Ward) -> None:
    text = usual.get(course(ward)).page.text
    assert "treatment limits: Full treatment" in text
    assert "record number LR-2086" in text
    assert "Ash, respiratory therapist" in text


def test_whoever_may_not_do_something_is_told_under_the_sites_name(
    database: Database, clock: Clock, ward: Ward
) -> None:
    for browser in open_with(database, clock, words={"READER": "consultant"}):
        oak = browser.another()
        oak.sign_in("oak", PASSWORD)
        answer = oak.get(f"{course(ward)}/assess")
        assert "A consultant may not" in answer.page.text


def test_a_range_of_the_patients_own_is_typed_and_told_as_the_site_writes_it(
    elsewhere: Browser, ward: Ward, database: Database
) -> None:
    action = f"{course(ward)}/own-ranges"
    elsewhere.get(action)
    order = {
        "own_limit": "fio2_set",
        "own_over": "0.75",
        "ordered_by": "Dr Oak",
        "why": "palliation",
    }
    page = elsewhere.submit(action, **order).page
    assert "FiO2: outside is over 0.75 (ordered by Dr Oak: palliation)" in page.text
    (own,) = facts_of(database, ward).own_ranges
    assert own.over == 75
