"""A new site says what is missing, on every page, with the command that brings it."""

import shlex
from collections.abc import Iterator

import pytest

from app.actions.set_up_unit import NewUnit, set_up_unit
from app.pages.first_run import NO_PERSON_YET, NO_UNIT_YET, missing_of
from app.record.database import Database
from app.record.people import set_up_person
from app.record.set_up import SetUp, set_up
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.site import PASSWORD, dismiss, hire, open_site
from tests.ward import ZONE

PAGES = ["/", "/sign-in", "/courses", "/beds/L3", "/no-such-page"]


@pytest.fixture
def newcomer(database: Database, clock: Clock) -> Iterator[Browser]:
    """Somebody in front of a site in which nothing was set up."""
    with browsing(open_site(database, clock)) as browser:
        yield browser


def add_unit(database: Database, clock: Clock) -> None:
    with database.writing(clock) as writing:
        writing.author_id = set_up_person(writing)
        set_up_unit(writing, NewUnit("larch", "Unit Larch", ZONE, ["L1"]))


@pytest.mark.parametrize("path", PAGES)
def test_every_page_of_an_empty_site_names_both_commands(newcomer: Browser, path: str):
    text = newcomer.get(path).page.text
    for missing in (NO_UNIT_YET, NO_PERSON_YET):
        assert missing.words in text
        assert missing.command in text


def test_once_somebody_can_sign_in_only_the_unit_is_missing(newcomer: Browser, database, clock):
    newcomer.get("/sign-in")
    hire(database, clock, "cedar", "lead")
    text = newcomer.get("/sign-in").page.text
    assert (NO_UNIT_YET.words in text, NO_PERSON_YET.words in text) == (True, False)


@pytest.mark.parametrize("path", ["/", "/courses", "/beds/L3"])
def test_whoever_signs_in_before_there_is_a_unit_is_told_so(
    newcomer: Browser, database, clock, path: str
):
    hire(database, clock, "cedar", "lead")
    newcomer.sign_in("cedar", PASSWORD)
    answer = newcomer.get(path)
    assert (answer.status, answer.page.heading) == (503, "Not set up yet")
    assert NO_UNIT_YET.command in answer.page.text


def test_a_site_that_is_set_up_says_nothing_of_it(newcomer: Browser, database, clock):
    newcomer.get("/sign-in")
    hire(database, clock, "cedar", "lead")
    add_unit(database, clock)
    for path in PAGES:
        assert "leeboard" not in newcomer.get(path).page.text
    newcomer.sign_in("cedar", PASSWORD)
    assert newcomer.get("/").status == 200


def test_somebody_who_was_disabled_counts_as_nobody(database: Database, clock: Clock):
    hire(database, clock, "cedar", "lead")
    dismiss(database, clock, "cedar")
    with database.reading() as session:
        assert set_up(session) == SetUp(has_unit=False, has_person=False)


def test_nothing_is_missing_from_a_whole_site():
    assert missing_of(SetUp(has_unit=True, has_person=True)) == ()


@pytest.mark.parametrize("missing", [NO_UNIT_YET, NO_PERSON_YET])
def test_a_command_on_the_page_does_what_it_promises(missing, sqlite_database, monkeypatch):
    """Typed as it stands there, it brings what was missing."""
    from typer.testing import CliRunner

    from app.cli import main

    url = sqlite_database.url.render_as_string(hide_password=False)
    monkeypatch.setenv("LEEBOARD_DATABASE_URL", url)
    words = shlex.split(missing.command)
    typed = f"{PASSWORD}\n{PASSWORD}\n"
    result = CliRunner().invoke(main, words[1:], input=typed)
    assert (words[0], result.exit_code) == ("leeboard", 0), result.output
    with sqlite_database.reading() as session:
        assert missing not in missing_of(set_up(session))
