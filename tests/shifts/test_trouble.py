"""A record that cannot be written: said plainly, what was typed still there; reading goes on."""

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from app.record.database import Database
from app.record.errors import NotWritable
from tests.client import Browser
from tests.shifts.checks import PLAIN
from tests.ward import Ward


@pytest.fixture
def disk_full(database: Database, monkeypatch: pytest.MonkeyPatch):
    """From the call on, every write is refused as a full disk refuses it."""

    @contextmanager
    def refuse(*_args: object, **_more: object) -> Iterator[None]:
        raise NotWritable("the disk is full")
        yield

    def fill() -> None:
        monkeypatch.setattr(database, "writing", refuse)

    return fill


def test_a_check_that_cannot_be_saved_says_so_and_keeps_every_word(
    ash: Browser, ward: Ward, disk_full
) -> None:
    action = f"/courses/{ward.courses['L3']}/assess"
    ash.get(action)
    disk_full()
    answer = ash.submit(action, **PLAIN)
    assert answer.status == 503
    assert "cannot be written now: the disk is full" in answer.text
    typed = {e["name"]: e["value"] for e in answer.page.form(action).all("input")}
    assert (typed["tidal_volume_obs"], typed["peep_set"]) == ("420", "12")


def test_a_note_that_cannot_be_saved_stays_in_sight(ash: Browser, ward: Ward, disk_full) -> None:
    course = ward.courses["L3"]
    ash.get(f"/courses/{course}/handoff")
    disk_full()
    action = f"/courses/{course}/handoff/notes"
    answer = ash.submit(action, words="Stiffer since the turn")
    assert answer.status == 503
    assert "Stiffer since the turn" in answer.text


def test_reading_goes_on_under_a_line_that_says_what_is_wrong(
    ash: Browser, ward: Ward, disk_full
) -> None:
    disk_full()
    ash.get("/beds/L3")
    board = ash.get("/")
    assert board.status == 200
    assert "Nothing can be saved now" in board.text


@pytest.mark.parametrize("version", ["first", "1e5", "-1", "0", "2147483648", "9" * 30])
def test_a_version_that_is_no_number_of_one_leads_nowhere(
    ash: Browser, ward: Ward, version: str
) -> None:
    handoffs = f"/courses/{ward.courses['L3']}/handoffs"
    for address in (f"/policy/versions/{version}", f"{handoffs}/{version}"):
        assert ash.get(address).status == 404
        assert ash.get(f"{address}/{'toml' if 'policy' in address else 'stored'}").status == 404


def test_a_fault_that_hides_who_asks_is_still_answered_in_our_words(
    ash: Browser, database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The page that says so looks up who is in front of it, and breaks on the same thing."""

    def broken() -> None:
        raise RuntimeError("nobody foresaw this")

    ash.get("/")
    monkeypatch.setattr(database, "reading", broken)
    ash.cookies.set("leeboard-session", "another", domain="127.0.0.1")
    answer = ash.get("/scan")
    assert (answer.status, "Our mistake" in answer.page.text) == (500, True)
    assert answer.headers["x-frame-options"] == "DENY"
