"""`leeboard unit`: the units that this site serves."""

from datetime import time
from typing import Annotated
from zoneinfo import ZoneInfoNotFoundError

import typer

from app.actions.set_up_unit import NewUnit, set_up_unit
from app.commands.opened import given_settings, open_record, refuse
from app.main import utc_now
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
    database = open_record(given_settings())
    codes = beds.replace(",", " ").split()
    try:
        starts = tuple(time.fromisoformat(text) for text in shifts.split())
        unit = NewUnit(code, name, zone, codes, starts)
    except ZoneInfoNotFoundError:
        refuse(f"Not added: there is no time zone {zone!r}.")
    except ValueError as error:
        refuse(f"Not added: {error}.")
    with database.reading() as session:
        if any(known.code == code for known in list_units(session)):
            refuse(f"Not added: there is a unit {code!r} already.")
    with database.writing(utc_now, zone=None) as writing:
        writing.author_id = set_up_person(writing)
        set_up_unit(writing, unit)
    typer.echo(f"{name} stands with {len(codes)} beds, under the starting policy.")


@app.command("list")
def show() -> None:
    """Every unit with its zone and shifts."""
    database = open_record(given_settings())
    with database.reading() as session:
        for unit in list_units(session):
            shifts = " ".join(unit.shift_times)
            typer.echo(f"{unit.code:<10} {unit.name:<30} {unit.zone.key}  shifts {shifts}")
