"""The record held against itself, as `verify` reports it and as `restore` does once it is done."""

from functools import partial

import typer
from sqlmodel import Session

from app.charting.facts import CourseFacts
from app.main import utc_now
from app.record.audit import tail
from app.record.database import Database
from app.record.judging import judging
from app.record.verify import verify as differences
from app.rules.bed_summary import summarise, to_text

WRONG = 1
"""Exit status when something differs."""


def report_differences(database: Database) -> None:
    """Say what differs, or that nothing does and where the chain ends. Exits when anything does."""
    with database.reading() as session:
        found = differences(session, partial(_cells, session))
        end = tail(session)
    for difference in found:
        typer.echo(f"{difference.where}: {difference.what}")
    if found:
        typer.echo(f"{len(found)} differences.")
        raise typer.Exit(WRONG)
    typer.echo(f"No difference. {end.seq} audit lines; the newest hash is {end.hash}.")


def _cells(session: Session, facts: CourseFacts) -> str:
    judge = judging(session, facts.unit_id, utc_now()).of(facts)
    return to_text(summarise(facts, judge.policy, judge.clock, judge.watching))
