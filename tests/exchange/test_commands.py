"""The two commands as an operator types them."""

import csv
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner, Result

from app.exchange.commands import Desk, clif, indices
from tests.exchange.clif_folder import support, write_folder
from tests.exchange.conftest import make_unit

ROWS = {"respiratory_support": [support("08:00", "IMV", peep_set=8, tidal_volume_obs=585573)]}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_folder(tmp_path / "tables", ROWS)


def run(desk: Desk | None, *words: object) -> Result:
    """Type the words. The commands stand in an application of the test's own, because the real one
    opens the record of the environment."""
    app = typer.Typer()
    app.command("clif")(clif)
    app.command("indices")(indices)
    return CliRunner().invoke(app, [str(word) for word in words], obj=desk)


def test_import_clif_prints_what_became_of_the_folder(desk: Desk, folder: Path):
    done = run(desk, "clif", folder)
    assert done.exit_code == 0
    assert "1  checks made" in done.output
    assert "585573" in done.output


def test_import_clif_writes_its_report_as_a_file(desk: Desk, folder: Path, tmp_path: Path):
    run(desk, "clif", folder, "--report", tmp_path / "report.csv")
    with (tmp_path / "report.csv").open(encoding="utf-8", newline="") as file:
        refused = [row for row in csv.DictReader(file) if row["what"] == "refused"]
    assert [(row["course"], row["typed"]) for row in refused] == [("S1", "585573")]


def test_export_indices_writes_a_row_for_each_assessment(desk: Desk, folder: Path, tmp_path: Path):
    run(desk, "clif", folder)
    done = run(desk, "indices", "--out", tmp_path / "indices.csv")
    assert done.output == "1 assessments written.\n"
    with (tmp_path / "indices.csv").open(encoding="utf-8", newline="") as file:
        assert [row["course"] for row in csv.DictReader(file)] == ["S1"]


def test_a_folder_without_tables_is_told_in_one_line(desk: Desk, tmp_path: Path):
    done = run(desk, "clif", tmp_path)
    assert done.exit_code == 2
    assert "no table patient" in done.output


def test_of_two_units_one_has_to_be_named(desk: Desk, folder: Path):
    make_unit(desk.database, desk.clock, code="M")
    assert run(desk, "clif", folder).exit_code == 2
    assert run(desk, "clif", folder, "--unit", "N").exit_code == 2
    assert run(desk, "clif", folder, "--unit", "M").exit_code == 0


def test_without_a_record_the_commands_say_so(folder: Path):
    assert isinstance(run(None, "clif", folder).exception, TypeError)
