"""`leeboard restore FILE`: a backup into a new, empty record, and the check that it is whole."""

from pathlib import Path
from typing import Annotated

import typer

from app.actions.rebuild_summaries import rebuild_summaries
from app.commands.checked import report_differences
from app.commands.opened import given_settings, opened_record, refuse
from app.main import utc_now
from app.record import restore as record
from app.record.backup_file import open_backup
from app.record.database import Database
from app.record.errors import Conflict, NotReadable, NotRestored, NotWritable

app = typer.Typer(add_completion=False)


@app.command("restore")
def restore(file: Annotated[Path, typer.Argument(help="What `leeboard backup` wrote.")]) -> None:
    """Read a backup into an empty, migrated record, and verify every row of it.

    Everybody signs in again afterwards; what was typed and not saved is not in a backup.
    """
    with opened_record(given_settings()) as database:
        _read_in(database, file)
        rebuild_summaries(database, utc_now)
        report_differences(database)


def _read_in(database: Database, file: Path) -> None:
    try:
        with open_backup(file) as backup:
            manifest = record.restore(database, backup)
    except (NotRestored, NotWritable, NotReadable, Conflict) as error:
        refuse(f"Not restored: {error.why}.")
    typer.echo(
        f"{manifest.rows} rows of {manifest.made_at} are read in, from {manifest.engine}"
        f" at revision {manifest.revision}. Verifying …"
    )
