"""`leeboard verify`: whether the record still is what was written, and the board what follows."""

import typer

from app.commands.checked import report_differences
from app.commands.opened import given_settings, opened_record

app = typer.Typer(add_completion=False)


@app.command("verify")
def verify() -> None:
    """Check chain, hashes and refusals; rebuild summaries and occupancy; report what differs."""
    with opened_record(given_settings()) as database:
        report_differences(database)
