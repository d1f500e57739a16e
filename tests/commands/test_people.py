"""`leeboard user`: who can sign in, and a password that never stands in an argument."""

from pathlib import Path

import pytest
from argon2.profiles import CHEAPEST
from typer.testing import CliRunner

from app.actions.passwords import Passwords
from app.cli import main
from app.commands import people
from app.record.people import find_by_sign_in_name, password_hash
from tests.site import PASSWORD, PASSWORDS, SECRET

ADD = ("user", "add", "ash", "--role", "therapist", "--name", "Ash")
OTHER = "cedar and larch 8"


@pytest.fixture(autouse=True)
def quick(monkeypatch):
    """Hashing at a cost for tests."""
    monkeypatch.setattr(people, "Passwords", lambda: Passwords(CHEAPEST))


@pytest.fixture
def database(sqlite_database):
    """One engine: nothing here depends on it."""
    return sqlite_database


@pytest.fixture
def leeboard(database, tmp_path):
    """Type a command, with what is typed when it asks."""
    url = database.url.render_as_string(hide_password=False)
    environment = {"LEEBOARD_DATABASE_URL": url, "LEEBOARD_SECRET": SECRET}

    def typed(*words: str, answers: str = ""):
        return CliRunner().invoke(main, words, env=environment, input=answers)

    return typed


def twice(password: str) -> str:
    return f"{password}\n{password}\n"


def opens(database, password: str, name: str = "ash") -> bool:
    """Whether the password is the one by which that person signs in."""
    with database.reading() as session:
        person = find_by_sign_in_name(session, name)
        kept = password_hash(session, person.id) if person else ""
    return PASSWORDS.matches(kept, password)


def test_a_password_is_asked_for_twice_and_never_shown(leeboard, database):
    result = leeboard(*ADD, answers=twice(PASSWORD))
    assert result.exit_code == 0
    assert PASSWORD not in result.output
    assert opens(database, PASSWORD)


def test_two_different_passwords_are_asked_for_again(leeboard, database):
    result = leeboard(*ADD, answers=f"{PASSWORD}\n{OTHER}\n" + twice(OTHER))
    assert (result.exit_code, opens(database, OTHER)) == (0, True)


def test_there_is_no_way_to_give_a_password_as_an_argument(leeboard):
    assert "--password " not in leeboard("user", "add", "--help").stdout


@pytest.mark.parametrize("content", [PASSWORD, f"{PASSWORD}\n", f"{PASSWORD}\r\n"])
def test_a_script_gives_it_in_a_file(leeboard, database, tmp_path: Path, content: str):
    file = tmp_path / "password"
    file.write_bytes(content.encode())
    assert leeboard(*ADD, "--password-file", str(file)).exit_code == 0
    assert opens(database, PASSWORD)


def test_a_script_gives_it_on_standard_input(leeboard, database):
    result = leeboard(*ADD, "--password-file", "-", answers=f"{PASSWORD}\n")
    assert (result.exit_code, opens(database, PASSWORD)) == (0, True)


@pytest.mark.parametrize(
    ("content", "words"),
    [(b"", "holds 0 lines"), (b"one\ntwo\n", "holds 2 lines"), (b"\xff\xfe", "not UTF-8")],
)
def test_a_file_of_another_shape_is_refused(leeboard, tmp_path: Path, content, words: str):
    file = tmp_path / "password"
    file.write_bytes(content)
    result = leeboard(*ADD, "--password-file", str(file))
    assert (result.exit_code, words in result.stderr) == (2, True)


def test_a_file_that_is_not_there_is_refused(leeboard, tmp_path: Path):
    result = leeboard(*ADD, "--password-file", str(tmp_path / "none"))
    assert (result.exit_code, "No such file" in result.stderr) == (2, True)


@pytest.mark.parametrize(
    ("words", "password", "told"),
    [
        (("user", "add", " ", *ADD[3:]), PASSWORD, "a name to sign in with"),
        ((*ADD[:5], "--name", " "), PASSWORD, "one that colleagues see"),
        ((*ADD[:3], "--role", "king", *ADD[5:]), PASSWORD, "a role is one of"),
        (ADD, "short", "at least 10 characters"),
        (ADD, "aaaaaaaaaaaa", "repeats a few characters"),
        (("user", "add", "import", *ADD[3:]), PASSWORD, "'import' already"),
    ],
)
def test_somebody_who_cannot_be_added_is_refused_with_the_reason(
    leeboard, words, password: str, told: str
):
    result = leeboard(*words, answers=twice(password))
    assert result.exit_code == 2
    assert "Not added: " in result.stderr
    assert told in result.stderr
    assert leeboard("user", "list").stdout == ""


def test_a_name_can_be_taken_once_however_it_is_capitalised(leeboard):
    leeboard(*ADD, answers=twice(PASSWORD))
    again = leeboard("user", "add", "ASH", *ADD[3:], answers=twice(OTHER))
    assert (again.exit_code, "somebody signs in as 'ash' already" in again.stderr) == (2, True)


def test_who_is_disabled_cannot_sign_in_and_stays_in_the_list(leeboard, database):
    leeboard(*ADD, answers=twice(PASSWORD))
    assert leeboard("user", "disable", "ash").exit_code == 0
    assert not opens(database, PASSWORD)
    (line,) = leeboard("user", "list").stdout.splitlines()
    assert line.split() == ["ash", "Ash", "respiratory", "therapist", "(disabled)"]


def test_a_reset_gives_a_new_password_and_the_way_back_in(leeboard, database):
    leeboard(*ADD, answers=twice(PASSWORD))
    leeboard("user", "disable", "ash")
    assert leeboard("user", "reset", "ash", answers=twice(OTHER)).exit_code == 0
    assert (opens(database, PASSWORD), opens(database, OTHER)) == (False, True)


@pytest.mark.parametrize("password", ["short", "aaaaaaaaaaaa"])
def test_a_reset_takes_no_password_that_nobody_may_have(leeboard, database, password: str):
    leeboard(*ADD, answers=twice(PASSWORD))
    result = leeboard("user", "reset", "ash", answers=twice(password))
    assert (result.exit_code, opens(database, PASSWORD)) == (2, True)


@pytest.mark.parametrize("name", ["nobody", "import"])
def test_nobody_is_changed_under_a_name_that_nobody_signs_in_by(leeboard, database, name: str):
    leeboard(*ADD, answers=twice(PASSWORD))
    for words in (("disable", name), ("reset", name)):
        result = leeboard("user", *words, answers=twice(OTHER))
        assert (result.exit_code, f"nobody signs in as {name}" in result.stderr) == (2, True)
    assert not opens(database, OTHER, name)


def test_without_a_migrated_record_no_password_is_even_asked_for(tmp_path: Path):
    environment = {"LEEBOARD_DATA_DIR": str(tmp_path), "LEEBOARD_DATABASE_URL": None}
    result = CliRunner().invoke(main, ADD, env=environment)
    assert (result.exit_code, "leeboard migrate" in result.stderr) == (2, True)
    assert "Password" not in result.stdout
