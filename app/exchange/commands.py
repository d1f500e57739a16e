"""The commands that move files in and out: `import clif DIR` and `export indices --out FILE`.

Whoever builds the command line lays a `Desk` into the context, in a callback of these two apps.
"""

from pathlib import Path
from typing import Annotated

import typer
from msgspec import Struct

from app.exchange.clif_files import TablesError
from app.exchange.clif_import import import_clif
from app.exchange.import_report import in_words, write_csv
from app.exchange.indices_export import export_indices
from app.record.database import Database
from app.record.errors import NotFound
from app.record.judging import judging
from app.record.units import Unit, find_unit_by_code, list_units
from app.record.writing import Clock

import_app = typer.Typer(no_args_is_help=True, help="Bring files in.")
export_app = typer.Typer(no_args_is_help=True, help="Write files out.")


class Desk(Struct, frozen=True):
    """What these commands work on: an open record, and the time."""

    database: Database
    clock: Clock


UnitCode = Annotated[str, typer.Option("--unit", help="Code of the unit; not needed for one.")]


@import_app.command("clif")
def clif(
    context: typer.Context,
    folder: Annotated[Path, typer.Argument(exists=True, file_okay=False, metavar="DIR")],
    unit: UnitCode = "",
    report: Annotated[Path | None, typer.Option(help="Also write the report as CSV.")] = None,
) -> None:
    """Read open CLIF 2.1 tables (CSV or Parquet) as if a person had typed them."""
    desk = _desk(context)
    try:
        made = import_clif(desk.database, desk.clock, find_unit(desk, unit), folder)
    except TablesError as error:
        raise typer.BadParameter(str(error), param_hint="DIR") from error
    for line in in_words(made):
        typer.echo(line)
    if report is not None:
        write_csv(made, report)


@export_app.command("indices")
def indices(
    context: typer.Context,
    out: Annotated[Path, typer.Option("--out", help="The CSV file to write.")],
    unit: UnitCode = "",
) -> None:
    """One row for each assessment: every index, unrounded, and whether it holds."""
    desk = _desk(context)
    where = find_unit(desk, unit)
    with (
        desk.database.reading() as session,
        out.open("w", encoding="utf-8", newline="") as file,
    ):
        written = export_indices(session, judging(session, where.id, desk.clock()), file)
    typer.echo(f"{written} assessments written.")


def _desk(context: typer.Context) -> Desk:
    desk = context.find_object(Desk)
    if desk is None:
        raise TypeError("these commands need a Desk as the context's object")
    return desk


def find_unit(desk: Desk, code: str) -> Unit:
    """The unit with this code, or the only one. Raises BadParameter where there is no such one."""
    with desk.database.reading() as session:
        units = list_units(session)
        if not code and len(units) == 1:
            return units[0]
        codes = ", ".join(unit.code for unit in units)
        if not code:
            told = f"which unit? There are {codes}." if units else "there is no unit yet."
            raise typer.BadParameter(told, param_hint="--unit")
        try:
            return find_unit_by_code(session, code)
        except NotFound as error:
            told = f"no unit {code!r}; there are {codes}."
            raise typer.BadParameter(told, param_hint="--unit") from error
