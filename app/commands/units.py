"""`leeboard unit`: the units that this site serves."""

from datetime import time
from typing import Annotated

import typer

from app.actions.set_up_unit import NewUnit, UnitRefused, set_up_unit
from app.commands.opened import given_settings, opened_record, refuse
from app.main import utc_now
from app.record.database import Database
from app.record.errors import NotWritable
from app.record.people import set_up_person
from app.record.units import list_units

app = typer.Typer(add_completion=False, no_args_is_help=True, help="The units of this site.")


@app.command("add")
def add(
    code: Annotated[str, typer.Argument(help="Short code that the staff use.")],
    name: Annotated[str, typer.Option(help="Name as pages show it.")],
    zone: Annotated[str, typer.Option(help="IANA time zone, such as America/New_York.")],
    beds: Annotated[str, typer.Option(help="Bed codes in order, parted by spaces or commas.")],
    shifts: Annotated[str, typer.Option(help="Starts of the shifts.")] = "07:00 19:00",
) -> None:
    """Set up a unit with its beds and the starting policy."""
    codes = beds.replace(",", " ").split()
    with opened_record(given_settings()) as database:
        try:
            unit = NewUnit(code, name, zone, codes, _starts(shifts))
            with database.writing(utc_now) as writing:
                writing.author_id = set_up_person(writing)
                set_up_unit(writing, unit)
        except UnitRefused as refused:
            refuse(f"Not added: {refused}.")
        except NotWritable as error:
            refuse(f"Not added: {error.why}.")
        typer.echo(f"{name} stands with {len(codes)} beds, under the starting policy.")
        _say_which_is_served(database)


def _starts(text: str) -> tuple[time, ...]:
    try:
        return tuple(time.fromisoformat(part) for part in text.replace(",", " ").split())
    except ValueError:
        raise UnitRefused(f"{text!r} are no starts of shifts such as 07:00 19:00") from None


def _say_which_is_served(database: Database) -> None:
    """The pages show one unit; with a second one an operator must know which."""
    with database.reading() as session:
        units = list_units(session)
    if len(units) > 1:
        typer.echo(f"The pages show one unit, the first by name: {units[0].name}.")


@app.command("list")
def show() -> None:
    """Every unit with its zone and shifts."""
    with opened_record(given_settings()) as database, database.reading() as session:
        for unit in list_units(session):
            shifts = " ".join(unit.shift_times)
            typer.echo(f"{unit.code:<10} {unit.name:<30} {unit.zone.key}  shifts {shifts}")
