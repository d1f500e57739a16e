"""`leeboard migrate`: bring the record up to this version."""

import typer

from app.actions.rebuild_summaries import rebuild_summaries
from app.commands.opened import given_settings, refuse
from app.main import utc_now
from app.record.database import Database
from app.record.errors import NotReadable, NotWritable
from app.record.migrate import current_revision, upgrade

app = typer.Typer(add_completion=False)


@app.command("migrate")
def migrate() -> None:
    """Bring the record up to this version; what is there already stays as it is.

    The board's lines are made anew where this version says more of the same facts.
    """
    database = Database(given_settings().database_url)
    try:
        before = current_revision(database) if database.has_begun else None
        upgrade(database)
        after = current_revision(database)
        rebuild_summaries(database, utc_now)
    except (NotWritable, NotReadable) as error:
        refuse(f"Not migrated: {error.why}.")
    finally:
        database.close()
    was = f"it was {before}" if before else "it was empty"
    typer.echo(f"The record is at revision {after}; {was}.")
