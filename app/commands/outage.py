"""`leeboard outage`: files for hours without the program."""

from datetime import timedelta

import typer

from app.commands.opened import given_settings, opened_record, refuse
from app.main import utc_now
from app.record.errors import NotReadable
from app.web.outage_files import INDEX, NoUnit, write_set
from app.web.site import words_of

app = typer.Typer(
    add_completion=False, no_args_is_help=True, help="Files for hours without the program."
)


@app.callback()
def _every_command() -> None:
    """Files for hours without the program."""


@app.command("write")
def write() -> None:
    """Write the unit's handoff and blank forms as files that open without a server."""
    settings = given_settings()
    keep = timedelta(hours=settings.outage_keep_hours)
    with opened_record(settings) as database:
        try:
            written = write_set(
                database, words_of(settings), settings.outage_folder, utc_now(), keep
            )
        except NoUnit:
            refuse("Nothing was written: there is no unit yet.")
        except NotReadable as error:
            refuse(f"Nothing was written: {error.why}.")
        except OSError as error:
            refuse(f"Nothing was written in {settings.outage_folder}: {error.strerror}.")
        with database.writing(utc_now) as writing:
            writing.audit("write_outage_set", detail={"patients": written.patients})
    typer.echo(f"{written.path.parent / INDEX}  {written.patients} patients")
    typer.echo("It names patients: keep the folder where only the unit's own desks can open it.")
