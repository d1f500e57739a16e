"""What is kept while nothing is written: sessions end at their minute, rows are drawn once."""

import pytest
from msgspec import Struct

from app.record.database import Database
from app.web.kept import Kept
from app.web.templating import MOST_DRAWN, Pages, template_environment
from tests.client import Browser
from tests.clock import Clock
from tests.site import PASSWORD, dismiss


class Row(Struct, frozen=True):
    """Something whose HTML the filter can draw."""

    word: str


@pytest.fixture
def drawn():
    environment = template_environment()
    environment.loader = None
    drawn = environment.filters["drawn"]
    templates = {"row": environment.from_string("<b>{{ row.word }}</b>")}
    environment.get_template = templates.__getitem__
    return drawn


def write(database: Database, clock: Clock) -> None:
    with database.writing(clock) as writing:
        writing.audit("look")


def test_one_memory_lasts_until_something_is_written(
    sqlite_database: Database, clock: Clock
) -> None:
    kept = Kept()
    memory = kept.memory(sqlite_database)
    memory["word"] = "kept"
    assert kept.memory(sqlite_database) is memory
    write(sqlite_database, clock)
    assert kept.memory(sqlite_database) == {}


def test_what_was_read_before_a_write_never_reaches_the_memory_after_it(
    sqlite_database: Database, clock: Clock
) -> None:
    kept = Kept()
    before = kept.memory(sqlite_database)
    write(sqlite_database, clock)
    after = kept.memory(sqlite_database)
    before["word"] = "old"
    assert after == {}


def test_where_nobody_can_tell_nothing_is_kept(postgresql) -> None:
    kept = Kept()
    with postgresql.fresh() as database:
        assert kept.memory(database) is not kept.memory(database)


def test_a_kept_visit_still_ends_with_its_idle_time(browser: Browser, clock: Clock) -> None:
    browser.sign_in("ash", PASSWORD)
    assert browser.get("/probe/rows", follow=False).status == 200
    clock.forward(minutes=14, seconds=59)
    assert browser.get("/probe/rows", follow=False).status == 200
    clock.forward(seconds=1)
    assert browser.get("/probe/rows", follow=False).status == 303


def test_whoever_is_dismissed_is_out_at_once(
    browser: Browser, database: Database, clock: Clock
) -> None:
    browser.sign_in("ash", PASSWORD)
    assert browser.get("/probe/rows", follow=False).status == 200
    dismiss(database, clock, "ash")
    assert browser.get("/probe/rows", follow=False).status == 303


def test_a_row_is_drawn_once_for_as_long_as_it_is_the_same_object(drawn) -> None:
    row = Row("calm")
    assert drawn(row, "row") is drawn(row, "row")


def test_an_equal_row_that_is_another_object_is_drawn_for_itself(drawn) -> None:
    assert drawn(Row("calm"), "row") == drawn(Row("calm"), "row") == "<b>calm</b>"


def test_what_a_row_holds_is_escaped(drawn) -> None:
    assert drawn(Row("<i>"), "row") == "<b>&lt;i&gt;</b>"


def test_the_rows_that_are_kept_have_an_end(drawn) -> None:
    rows = [Row(str(number)) for number in range(MOST_DRAWN + 1)]
    for row in rows:
        drawn(row, "row")
    assert len(drawn._kept) == 1


def test_pages_are_written_with_the_same_filter() -> None:
    assert "drawn" in Pages()._environment.filters
