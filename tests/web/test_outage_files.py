"""Files for hours without the program: whole or not at all, with their age, without a server."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from typer.testing import CliRunner

from app.cli import main
from app.pages.site_words import PLAIN
from app.record.database import Database
from app.web.outage_files import INDEX, NoUnit, kept_sets, newest_set, write_set
from app.web.outage_hourly import until_the_hour
from tests.clock import Clock
from tests.ward import Ward, open_ward

DAY = timedelta(hours=24)
FIRST = datetime(2026, 11, 1, 5, 30, tzinfo=UTC)
"""01:30 EDT; an hour later it is 01:30 again, EST (IANA database)."""


@pytest.fixture
def clock() -> Clock:
    return Clock(FIRST)


@pytest.fixture
def ward(sqlite_database: Database, clock: Clock) -> Ward:
    return open_ward(sqlite_database, clock)


def write(database: Database, folder: Path, at: datetime, keep: timedelta = DAY) -> Path:
    return write_set(database, PLAIN, folder, at, keep).path


@pytest.mark.usefixtures("ward")
def test_a_set_opens_without_a_server_and_holds_every_bed(
    sqlite_database: Database, tmp_path: Path
) -> None:
    made = write(sqlite_database, tmp_path / "outage", FIRST)
    handoff = (made / "handoff.html").read_text(encoding="utf-8")
    assert not [n for n in ("LR-2086", "LR-4471", "LR-6006", "LR-1919") if n not in handoff]
    for page in (made / "handoff.html", made / "blank.html", made.parent / INDEX):
        text = page.read_text(encoding="utf-8")
        leads = re.findall(r'(?:href|src|action)="([^"]*)"', text)
        assert leads
        outside = [to for to in leads if not to.startswith("#") and not (page.parent / to).exists()]
        assert outside == []
        assert "<script" not in text
        assert "<form" not in text


@pytest.mark.usefixtures("ward")
def test_its_moment_stands_in_large_letters_and_both_hours_of_the_change_are_kept_apart(
    sqlite_database: Database, tmp_path: Path
) -> None:
    for hours in range(3):
        write(sqlite_database, tmp_path, FIRST + timedelta(hours=hours))
    text = (tmp_path / INDEX).read_text(encoding="utf-8")
    told = re.findall(r"as of (\d\d:\d\d \w+)", text)
    assert told == ["02:30 EST", "01:30 EST", "01:30 EDT"]
    assert '<p class="as-of">as of 02:30 EST</p>' in text


@pytest.mark.usefixtures("ward")
def test_only_the_owner_opens_the_folder_and_nothing_half_made_stays(
    sqlite_database: Database, tmp_path: Path
) -> None:
    folder = tmp_path / "outage"
    write(sqlite_database, folder, FIRST)
    write(sqlite_database, folder, FIRST)
    assert folder.stat().st_mode & 0o777 == 0o700
    assert sorted(path.name for path in folder.iterdir()) == [INDEX, "set-20261101T053000Z"]


@pytest.mark.usefixtures("ward")
@pytest.mark.parametrize(("minutes", "stays"), [(-1, True), (0, True), (1, False)])
def test_a_set_is_dropped_when_it_is_older_than_what_is_kept(
    sqlite_database: Database, tmp_path: Path, minutes: int, stays: bool
) -> None:
    write(sqlite_database, tmp_path, FIRST)
    last = FIRST + timedelta(hours=2, minutes=minutes)
    write(sqlite_database, tmp_path, last, timedelta(hours=2))
    assert ("set-20261101T053000Z" in kept_sets(tmp_path)) is stays
    assert newest_set(tmp_path) == last


def test_without_a_unit_there_is_nothing_to_write(
    sqlite_database: Database, tmp_path: Path
) -> None:
    with pytest.raises(NoUnit):
        write(sqlite_database, tmp_path, FIRST)
    assert kept_sets(tmp_path) == {}


@pytest.mark.parametrize(("second", "wait"), [(0, 3600), (1, 3599), (3599, 1)])
def test_the_next_set_comes_at_the_full_hour(second: int, wait: int) -> None:
    assert until_the_hour(datetime(2026, 11, 1, 5, tzinfo=UTC) + timedelta(seconds=second)) == wait


@pytest.mark.usefixtures("ward")
def test_an_operator_writes_one_on_demand(
    sqlite_database: Database, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEEBOARD_DATABASE_URL", f"sqlite:///{sqlite_database.url.database}")
    monkeypatch.setenv("LEEBOARD_OUTAGE_DIR", str(tmp_path / "there"))
    told = CliRunner().invoke(main, ["outage", "write"])
    assert (told.exit_code, (tmp_path / "there" / INDEX).exists()) == (0, True)
    assert "4 patients" in told.stdout
