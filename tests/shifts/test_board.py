"""The board: unchanged is 304, time alone changes it, and its cost does not grow with the beds."""

from datetime import timedelta

import pytest
from sqlalchemy import event

from app.actions.set_up_unit import NewUnit, set_up_unit
from app.record.database import Database
from app.record.people import set_up_person
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.shifts.checks import PLAIN, chart
from tests.site import PASSWORD, hire, open_site
from tests.ward import ZONE, Ward


def version(browser: Browser) -> str:
    board = browser.get("/")
    address = next(e["hx-get"] for e in board.page.root.all("div") if e["id"] == "board")
    return address.partition("version=")[2]


def refreshed(browser: Browser, known: str) -> int:
    return browser.part(f"/board/rows?version={known}").status


def test_nothing_changed_is_answered_without_drawing(ash: Browser) -> None:
    assert refreshed(ash, version(ash)) == 304


def test_a_new_check_changes_the_board(ash: Browser, ward: Ward) -> None:
    known = version(ash)
    chart(ash, ward)
    assert refreshed(ash, known) == 200


def test_somebody_elses_board_has_another_version(ash: Browser, ward: Ward) -> None:
    known = version(ash)
    birch = ash.another()
    birch.sign_in("birch", PASSWORD)
    assert refreshed(birch, known) == 200


@pytest.mark.parametrize(("minutes", "status"), [(4 * 60 + 59, 304), (5 * 60, 200)])
def test_a_check_turns_late_on_the_board_at_its_minute(
    browser: Browser, ward: Ward, clock: Clock, minutes: int, status: int
) -> None:
    # Charted at 03:30, due at 07:30, late an hour after: five hours from then.
    clock.forward(hours=8)
    browser.sign_in("ash", PASSWORD)
    for bed in ("L5", "L6", "L10"):
        action = f"/courses/{ward.courses[bed]}/assess"
        browser.get(action)
        browser.submit(action, **PLAIN)
    chart(browser, ward)
    known = version(browser)
    keep_signed_in(browser, clock, clock.now + timedelta(minutes=minutes))
    assert refreshed(browser, known) == status


@pytest.mark.parametrize(("seconds", "status"), [(-1, 304), (0, 200)])
def test_the_board_says_another_day_at_midnight(
    ash: Browser, clock: Clock, seconds: int, status: int
) -> None:
    # 19:30 in the unit: the day of support and the dates beside the times change at 00:00.
    keep_signed_in(ash, clock, clock.now + timedelta(hours=4, minutes=25))
    known = version(ash)
    clock.forward(minutes=5, seconds=seconds)
    assert refreshed(ash, known) == status


def keep_signed_in(browser: Browser, clock: Clock, until) -> None:
    """Touch a page every ten minutes, as somebody at work does."""
    while clock.now < until:
        clock.now = min(clock.now + timedelta(minutes=10), until)
        browser.get("/courses")


@pytest.fixture
def statements(database: Database):
    """Count what a block sends to the database."""
    seen: list[str] = []

    def note(_conn, _cursor, statement, *_rest) -> None:
        seen.append(statement)

    engines = (database._engines.readers, database._engines.writers)
    for engine in engines:
        event.listen(engine, "before_cursor_execute", note)
    yield seen
    for engine in engines:
        event.remove(engine, "before_cursor_execute", note)


def test_the_board_asks_as_often_for_1_24_and_200_beds(
    database: Database, clock: Clock, statements: list[str]
) -> None:
    counts = []
    for beds in (1, 24, 200):
        with database.writing(clock) as writing:
            writing.author_id = set_up_person(writing)
            codes = [f"B{number}" for number in range(beds)]
            # The site serves the unit whose name comes first.
            set_up_unit(writing, NewUnit(f"u{beds}", f"{400 - beds} beds", ZONE, codes))
        if beds == 1:
            hire(database, clock, "ash")
        with browsing(open_site(database, clock)) as browser:
            browser.sign_in("ash", PASSWORD)
            browser.get("/")
            statements.clear()
            board = browser.get("/")
            counts.append(len(statements))
            assert sum(1 for _ in board.page.root.all("tbody")) == 1
            assert sum(1 for row in board.page.root.all("th") if row["scope"] == "row") == beds
    assert len(set(counts)) == 1, counts
