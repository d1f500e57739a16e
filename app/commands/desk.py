"""What the file commands work on, put into their context before they run."""

import typer

from app.commands.opened import given_settings, open_record
from app.exchange.commands import Desk
from app.main import utc_now


def lay_out(context: typer.Context) -> None:
    """Open the record for the command that follows, and close it after."""
    database = open_record(given_settings())
    context.call_on_close(database.close)
    context.obj = Desk(database, utc_now)
