"""The list of commands."""

from importlib import import_module

import pytest
import typer

from app.cli import COMMANDS


def test_help_names_every_command(leeboard):
    told = leeboard("--help").stdout
    assert all(name in told for name in COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_is_there_and_says_what_it_does(leeboard, name: str):
    assert isinstance(import_module(COMMANDS[name]).app, typer.Typer)
    result = leeboard(name, "--help")
    assert (result.exit_code, "Usage" in result.stdout) == (0, True)


def test_a_command_that_does_not_exist_is_refused(leeboard):
    assert leeboard("delete").exit_code == 2


def test_a_file_command_wants_a_migrated_record(leeboard, tmp_path):
    result = leeboard("export", "indices", "--out", str(tmp_path / "out.csv"))
    assert (result.exit_code, "leeboard migrate" in result.stderr) == (2, True)


def test_a_file_command_gets_the_record(leeboard, tmp_path):
    leeboard("migrate")
    result = leeboard("export", "indices", "--out", str(tmp_path / "out.csv"), COLUMNS="200")
    assert "there is no unit yet" in result.stderr
