"""Hours without the program in the night with an hour twice: nothing doubled, nothing lost."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from app.pages.site_words import PLAIN as WORDS
from app.record.database import Database
from app.web.outage_files import newest_set, write_set
from tests.client import Answer, Browser, browsing
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD, open_site
from tests.ward import Ward, facts_of

DOWN = datetime(2026, 11, 1, 3, 10, tzinfo=UTC)
"""Sat 31 Oct 2026, 23:10 EDT; New York goes back to standard time at 06:00 UTC (IANA database)."""
BACK = datetime(2026, 11, 1, 8, 20, tzinfo=UTC)
"""Sun 1 Nov, 03:20 EST: five hours and ten minutes later, though the wall clock says 4 h 10."""


@pytest.fixture
def clock() -> Clock:
    return Clock(DOWN - timedelta(minutes=10))


@pytest.fixture
def before(database: Database, clock: Clock, ward: Ward, tmp_path: Path) -> Path:
    """The last hour before: one check, and the files of the full hour."""
    write_set(database, WORDS, tmp_path, clock.now, timedelta(hours=24))
    with browsing(open_site(database, clock)) as browser:
        browser.sign_in("ash", PASSWORD)
        action = f"/courses/{ward.courses['L3']}/assess"
        browser.get(action)
        assert browser.submit(action, **PLAIN).path == f"/courses/{ward.courses['L3']}"
    return tmp_path


@pytest.fixture
def birch(database: Database, clock: Clock, before: Path) -> Iterator[Browser]:
    """The program is back, on the same record, and Birch types the paper in."""
    assert DOWN - newest_set(before) < timedelta(hours=1)
    clock.now = BACK
    with browsing(open_site(database, clock)) as browser:
        browser.sign_in("birch", PASSWORD)
        yield browser


def type_in(browser: Browser, ward: Ward, at: str, fold: str = "", **more: object) -> Answer:
    action = f"/courses/{ward.courses['L3']}/assess"
    browser.get(f"{action}?paper=1")
    typed = {**PLAIN, "paper_by": "Ash", "observed_at": at, **more}
    if not fold:
        return browser.submit(action, **typed)
    browser.submit(action, press="family", **typed)  # both moments are offered after a look
    return browser.submit(action, observed_fold=fold)


def observed(database: Database, ward: Ward) -> list[tuple[str, str]]:
    rows = facts_of(database, ward).assessments
    return [(f"{row.observed_at:%H:%M}", row.paper_by) for row in rows]


def test_paper_of_the_doubled_hour_is_typed_in_once_each(
    birch: Browser, ward: Ward, database: Database
) -> None:
    course = f"/courses/{ward.courses['L3']}"
    written = (("01:30", "first", "90"), ("01:30", "second", "91"), ("02:30", "", "92"))
    for at, fold, rate in written:
        answer = type_in(birch, ward, f"2026-11-01T{at}", fold, heart_rate=rate)
        assert answer.path == course
    paper = [("05:30", "Ash"), ("06:30", "Ash"), ("07:30", "Ash")]
    assert observed(database, ward) == [("03:00", ""), *paper]
    heads = [e.text for e in birch.get(course).page.root.all("th") if e["scope"] == "col"]
    from_paper = [head for head in heads if "from paper by Ash" in head]
    assert [head.split()[0:2] for head in from_paper] == [
        ["01:30", "EDT"],
        ["01:30", "EST"],
        ["02:30", "EST"],
    ]
    assert all("late" in head for head in from_paper)

    twice = type_in(birch, ward, "2026-11-01T02:28", heart_rate="93")
    assert twice.status == 422
    assert "Birch charted a check 2 minutes after this time: FiO2 45, PEEP 12" in twice.page.text
    assert observed(database, ward) == [("03:00", ""), *paper]


def test_a_check_from_paper_names_its_writer_and_its_time(
    birch: Browser, ward: Ward, database: Database
) -> None:
    answer = type_in(birch, ward, "2026-11-01T02:30", paper_by="")
    assert (answer.status, "Say who wrote it on paper" in answer.page.text) == (422, True)
    now = type_in(birch, ward, "2026-11-01T03:19")
    assert (now.status, "Type the time that stands on the paper" in now.page.text) == (422, True)
    assert observed(database, ward) == [("03:00", "")]


def test_due_times_follow_what_was_typed_in(birch: Browser, ward: Ward) -> None:
    course = f"/courses/{ward.courses['L3']}"

    def due() -> list[str]:
        lines = (e.text for e in birch.get(course).page.root.all("li"))
        return [line for line in lines if "full check" in line]

    (before,) = due()
    assert type_in(birch, ward, "2026-11-01T02:50", heart_rate="90").path == course
    (after,) = due()
    assert (before, after) == ("03:30 EST full check", "07:30 EST full check")


def test_a_lead_records_the_span_and_pages_that_touch_it_say_so(
    birch: Browser, ward: Ward, clock: Clock
) -> None:
    cedar = birch.another()
    cedar.sign_in("cedar", PASSWORD)
    cedar.get("/print")
    typed = {"from_at": "2026-10-31T23:10", "to_at": "2026-11-01T03:20", "words": "no power"}
    wrong = cedar.submit("/outage/spans", **typed | {"to_at": "2026-10-31T23:00"})
    assert (wrong.status, "after the beginning" in wrong.page.text) == (422, True)
    cedar.submit("/outage/spans", **typed)
    words = "On paper from 31 Oct 23:10 EDT to 03:20 EST: no power (Cedar)."
    for path in ("", "/handoff"):
        assert words in birch.get(f"/courses/{ward.courses['L3']}{path}").page.text
    earlier = (BACK - timedelta(minutes=1)).strftime("%Y-%m-%dT%H:%M:%SZ")
    then = birch.get(f"/courses/{ward.courses['L3']}?as_of={earlier}").page.text
    assert ("As it was known" in then, words in then) == (True, False)
    clock.forward(hours=25)
    birch.sign_in("birch", PASSWORD)
    assert words not in birch.get(f"/courses/{ward.courses['L3']}").page.text
    assert birch.post("/outage/spans", typed).status == 403


def test_a_lead_writes_the_files_on_demand(
    birch: Browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)  # the data folder lies where the program runs, unless given
    cedar = birch.another()
    cedar.sign_in("cedar", PASSWORD)
    assert "No set of files" in cedar.get("/print").page.text
    cedar.submit("/outage/write")
    assert "written Sun 1 Nov 2026, 03:20 EST" in cedar.last.page.text
    assert newest_set(tmp_path / ".data" / "outage") == BACK
    assert "Write the files now" not in birch.get("/print").page.text
