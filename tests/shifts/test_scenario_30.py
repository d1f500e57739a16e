"""A student, privacy and the audit: a draft that nobody signed, a reader who tries, an idle screen.

Fern drafts a row and Ash forgets to sign it; Dr Oak tries to write; the screen stands idle; an
auditor asks who looked. The draft stays what it is, and everything that was done has its line.
"""

import json
from collections.abc import Iterator

import pytest
from structlog.testing import capture_logs

from app.record.audit import chain
from app.record.database import Database
from tests.client import Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD
from tests.ward import IDENTIFIERS, Ward


@pytest.fixture
def said() -> Iterator[list]:
    """Every line that the app logs meanwhile."""
    with capture_logs() as lines:
        yield lines


@pytest.fixture
def fern(said: list, browser: Browser, ward: Ward) -> Browser:
    """Fern, who has just saved a check in L3."""
    browser.sign_in("fern", PASSWORD)
    action = f"/courses/{ward.courses['L3']}/assess"
    browser.get(action)
    browser.submit(action, **PLAIN)
    return browser


def colleague(browser: Browser, name: str, address: str = "10.1.1.2") -> Browser:
    other = browser.another(address)
    other.sign_in(name, PASSWORD)
    return other


def test_the_draft_is_unsigned_and_in_no_handoff_as_fact(fern: Browser, ward: Ward) -> None:
    ash = colleague(fern, "ash")
    assert "unsigned draft" in ash.get(f"/courses/{ward.courses['L3']}").text
    handoff = ash.get(f"/courses/{ward.courses['L3']}/handoff").page.text
    assert "Unsigned draft by Fern, 19:30: not in this handoff as fact" in handoff
    assert "94" not in handoff


def test_the_lead_finds_it_with_its_age_when_nobody_signed_it(
    fern: Browser, ward: Ward, clock: Clock
) -> None:
    clock.forward(hours=13)
    listed = colleague(fern, "cedar").get("/drafts")
    assert "Left from an earlier shift" in listed.text
    assert "P-01 Test" in listed.text
    assert [e for e in listed.page.root.all("time") if "data-age" in e.attributes]


def test_a_reader_is_refused_by_the_server_whatever_is_sent(
    fern: Browser, ward: Ward, database: Database
) -> None:
    oak = colleague(fern, "oak")
    course = ward.courses["L3"]
    token = next(e["value"] for e in oak.get("/").page.root.all("input") if e["name"] == "csrf")
    with database.reading() as session:
        before = sum(1 for line in chain(session) if line["act"] != "view_page")
    assert oak.get(f"/courses/{course}/assess").status == 403
    sent = {**PLAIN, "csrf": token, "course": course}
    assert oak.post(f"/courses/{course}/assess", sent).status == 403
    with database.reading() as session:
        assert sum(1 for line in chain(session) if line["act"] != "view_page") == before


def test_an_idle_screen_signs_off_and_the_draft_is_still_there(
    fern: Browser, ward: Ward, clock: Clock
) -> None:
    clock.forward(minutes=15)
    assert fern.get(f"/courses/{ward.courses['L3']}").path == "/sign-in"
    fern.sign_in("fern", PASSWORD)
    assert "P-01 Test" in fern.get("/drafts").text


def test_the_audit_tells_who_drafted_looked_and_printed_when_and_where(
    fern: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    course = ward.courses["L3"]
    clock.forward(minutes=2)
    oak = colleague(fern, "oak", "10.1.1.9")
    oak.get(f"/courses/{course}")
    oak.get(f"/courses/{course}/handoff/print")
    with database.reading() as session:
        lines = [line for line in chain(session) if line["course_id"] == course]
    told = [(line["act"], line["staff_id"], line["workstation"]) for line in lines]
    oaks, ferns = ward.staff["oak"], ward.staff["fern"]
    assert ("draft_assessment", ferns, "10.1.1.1") in told
    assert told[-2:] == [("view_page", oaks, "10.1.1.9"), ("print_page", oaks, "10.1.1.9")]
    assert {line["at"] for line in lines[-2:]} == {clock.now}


def test_no_address_and_no_log_line_names_the_patient(
    fern: Browser, ward: Ward, said: list
) -> None:
    ash = colleague(fern, "ash")
    ash.get("/drafts")
    address = next(a["href"] for a in ash.last.page.root.all("a") if "/drafts/" in a["href"])
    ash.get(address)
    ash.submit(f"{address}/sign")
    told = json.dumps(said, default=str)
    assert said
    assert not [name for name in (*IDENTIFIERS, *ward.courses.values()) if name in told]
