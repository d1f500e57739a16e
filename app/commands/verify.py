"""`leeboard verify`: whether the record still is what was written, and the board what follows."""

from functools import partial

import typer
from sqlmodel import Session

from app.charting.facts import CourseFacts
from app.commands.opened import given_settings, open_record
from app.main import utc_now
from app.record.audit import tail
from app.record.judging import judging
from app.record.verify import verify as differences
from app.rules.bed_summary import summarise, to_text

app = typer.Typer(add_completion=False)

WRONG = 1
"""Exit status when something differs."""


@app.command("verify")
def verify() -> None:
    """Check chain, hashes and refusals; rebuild summaries and occupancy; report what differs."""
    database = open_record(given_settings())
    with database.reading() as session:
        found = differences(session, partial(_cells, session))
        end = tail(session)
    database.close()
    for difference in found:
        typer.echo(f"{difference.where}: {difference.what}")
    if found:
        typer.echo(f"{len(found)} differences.")
        raise typer.Exit(WRONG)
    typer.echo(f"No difference. {end.seq} audit lines; the newest hash is {end.hash}.")


def _cells(session: Session, facts: CourseFacts) -> str:
    judge = judging(session, facts.unit_id, utc_now())
    return to_text(summarise(facts, judge.policy, judge.clock))
