"""`leeboard backup`: the whole record in one file, while the site goes on."""

from pathlib import Path
from typing import Annotated

import typer

from app.commands.opened import given_settings, opened_record, refuse
from app.main import utc_now
from app.record.backup import make_backup
from app.record.errors import NotReadable

app = typer.Typer(add_completion=False)

FOLDER = "backups"


@app.command("backup")
def backup(
    to: Annotated[
        Path | None, typer.Option(help="Folder for the file; `backups` in the data folder else.")
    ] = None,
) -> None:
    """Copy the record into one file with checksums; what is typed and not saved stays out."""
    settings = given_settings()
    folder = to or settings.data_dir / FOLDER
    with opened_record(settings) as database:
        try:
            made = make_backup(database, folder, utc_now())
        except NotReadable as error:
            refuse(f"No backup was made: {error.why}.")
        except OSError as error:
            refuse(f"No backup was made in {folder}: {error.strerror}.")
    typer.echo(f"{made.path}  {made.manifest.rows} rows, revision {made.manifest.revision}")
    typer.echo(f"SHA-256 of the file {made.sha256}")
    typer.echo(f"Newest of {made.manifest.audit_seq} audit lines {made.manifest.audit_hash}")
    typer.echo("It names patients: keep it as the record itself is kept, and on another machine.")
