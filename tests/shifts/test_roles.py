"""What each role may do, decided on the server whatever the page shows."""

import pytest

from app.record.database import Database
from tests.client import Browser
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD
from tests.ward import Ward


def as_(browser: Browser, name: str) -> Browser:
    browser.sign_in(name, PASSWORD)
    return browser


@pytest.mark.parametrize("name", ["oak"])
def test_who_only_reads_sees_the_bed_and_no_form(browser: Browser, ward: Ward, name: str) -> None:
    page = as_(browser, name).get(f"/courses/{ward.courses['L3']}")
    assert page.status == 200
    assert not [a for a in page.page.root.all("a") if a["href"].endswith("/assess")]


@pytest.mark.parametrize("name", ["oak", "alder"])
def test_who_may_not_chart_is_refused_by_the_server(
    browser: Browser, ward: Ward, name: str
) -> None:
    course = ward.courses["L3"]
    assert as_(browser, name).get(f"/courses/{course}/assess").status == 403


@pytest.mark.parametrize("path", ["/", "/courses", "/beds/L3"])
def test_an_auditor_sees_no_patient(browser: Browser, ward: Ward, path: str) -> None:
    answer = as_(browser, "alder").get(path)
    assert answer.status == 403
    assert "P-01" not in answer.text


def test_a_form_sent_past_the_page_is_refused_too(browser: Browser, ward: Ward) -> None:
    oak = as_(browser, "oak")
    board = oak.get("/")
    token = next(e["value"] for e in board.page.root.all("input") if e["name"] == "csrf")
    answer = oak.post(f"/courses/{ward.courses['L3']}/assess", {**PLAIN, "csrf": token})
    assert answer.status == 403


def test_nobody_signed_in_sees_nothing(browser: Browser, ward: Ward) -> None:
    answer = browser.get(f"/courses/{ward.courses['L3']}")
    assert answer.path == "/sign-in"
    assert "P-01" not in answer.text


def test_every_look_at_a_patient_is_in_the_audit(
    ash_looks: Browser, ward: Ward, database: Database
) -> None:
    from app.record.tables import AuditLineRow, table_of

    lines = table_of(AuditLineRow)
    with database.reading() as session:
        found = session.execute(lines.select().where(lines.c.act == "view_page")).all()
    assert [(line.staff_id, line.course_id) for line in found] == [
        (ward.staff["ash"], ward.courses["L3"])
    ]


@pytest.fixture
def ash_looks(ash: Browser, ward: Ward) -> Browser:
    """Ash opens one patient's page."""
    ash.get(f"/courses/{ward.courses['L3']}")
    return ash
