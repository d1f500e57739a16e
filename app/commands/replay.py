"""`leeboard replay CHART.csv --out FLAGS.csv`: what the rules would have said of charted rows."""

from io import StringIO
from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(add_completion=False)


@app.command("replay")
def replay(
    chart: Annotated[Path, typer.Argument(metavar="CHART.csv", help="A wide CSV of rows.")],
    out: Annotated[Path, typer.Option("--out", help="The CSV file of flags to write.")],
    policy: Annotated[Path | None, typer.Option(help="A policy in TOML; else the shipped.")] = None,
) -> None:
    """Write one row for each flag that the rules raise on a chart. Needs no database."""
    from app.exchange.replay import ReplayError
    from app.exchange.replay import replay as replay_file
    from app.rules.policy import PolicyError, read_policy, starting_policy

    try:
        held = read_policy(policy.read_text("utf-8")) if policy is not None else starting_policy()
    except (PolicyError, OSError, UnicodeDecodeError) as error:
        raise typer.BadParameter(str(error), param_hint="--policy") from None
    flags = StringIO()
    try:
        with chart.open(encoding="utf-8-sig", newline="") as lines:
            done = replay_file(lines, held, flags)
        out.write_text(flags.getvalue(), encoding="utf-8")
    except (ReplayError, OSError, UnicodeDecodeError) as error:
        raise typer.BadParameter(str(error), param_hint="CHART.csv") from None
    typer.echo(f"{done.rows} rows of {done.courses} courses, {done.flags} flags written.")
