"""`make bench-watch`: what the rules find on simulated courses, what they raise where nothing is.

Rules are tuned on one range of seeds and reported on another: `--tuning` takes the first. `--write`
puts the figures where the help page reads them (`make bench-watch WRITE=1`).
"""

import argparse
import platform
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from tests.bench.simulator.course import DAYS
from tests.bench.watch_clif import on_tables
from tests.bench.watch_judge import QUIET, REPORT, TUNING, WITH_EVENT, jobs, policy_from, run
from tests.bench.watch_kept import write_figures
from tests.bench.watch_table import Table, blocks_of, tables_of


def _say(text: str = "") -> None:
    print(text)  # noqa: T201


def _lines(table: Table) -> Iterator[str]:
    yield f"Seeds from {table['seeds_from']}: {table['seeds_are']}."
    for block in table["blocks"]:
        yield from _of_block(block)
    yield from _of_tables(table["tables"])


def _of_block(block: Table) -> Iterator[str]:
    first = block["quiet"][0]
    yield ""
    yield (
        f"{block['ward'].capitalize()} ward, charting noise {block['noise']} cmH2O: "
        f"{first['courses']} quiet courses of {DAYS} days"
    )
    for quiet in block["quiet"]:
        yield (
            f"  {quiet['set']:<18} {_interval(quiet['per_shift'], '.3f')} merged flags per shift, "
            f"open at handoff {quiet['open_at_handoff']:.2f}, "
            f"none at {quiet['handoffs_without']:.0%}"
        )
    for name in ("groups", "rules"):
        yield f"  {name}: " + ", ".join(f"{n} {rate:.3f}" for n, rate in block[name].items())
    for event in block["events"]:
        yield f"  {event['name']:<28} " + " | ".join(map(_found, event["sets"]))


def _found(of_set: Table) -> str:
    label = "" if of_set["set"] == "rules" else f"{of_set['set']} "
    hours = of_set["delay_h"]
    told = f" {_interval(hours, '.1f')} h" if hours else ""
    return f"{label}{_interval(of_set['found'], '.0%')}{told}"


def _of_tables(tables: Table) -> Iterator[str]:
    yield ""
    yield f"Open CLIF demo tables: {tables['courses']} courses, {tables['bed_days']} bed-days"
    for of_set in tables["sets"]:
        yield (
            f"  {of_set['set']:<18} {of_set['raises_per_bed_day']:.2f} raises per bed-day, "
            f"{of_set['merged_per_bed_day']:.2f} merged; gone at the next value "
            f"{_interval(of_set['gone_at_next'], '.0%')}"
        )


def _interval(numbers: list[float], form: str) -> str:
    middle, low, high = (format(number, form) for number in numbers)
    return f"{middle} ({low} to {high})"


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="A quarter of the courses.")
    parser.add_argument("--tuning", action="store_true", help="The seeds that rules are tuned on.")
    parser.add_argument("--policy", type=Path, help="A policy in TOML in place of the shipped one.")
    parser.add_argument("--write", action="store_true", help="Keep the figures for the help page.")
    return parser.parse_args()


def main() -> None:
    """Run the bench and print its figures."""
    given = _options()
    if given.write and (given.quick or given.tuning or given.policy):
        raise SystemExit(
            "--write takes the whole bench, the seeds of the report and the policy that ships"
        )
    policy = given.policy.read_text(encoding="utf-8") if given.policy else ""
    share, first = (4 if given.quick else 1), (TUNING if given.tuning else REPORT)
    done = run(list(jobs(first, QUIET // share, WITH_EVENT // share, policy)))
    table = {
        "measured_on": f"{datetime.now(UTC):%Y-%m-%d}",
        "measured_with": f"Python {platform.python_version()} on {platform.machine()}",
        "seeds_from": first,
        "seeds_are": "the rules were tuned on these" if given.tuning else "no rule was tuned here",
        "days": DAYS,
        "blocks": blocks_of(done),
        "tables": tables_of(on_tables(policy_from(policy))),
    }
    for line in _lines(table):
        _say(line)
    if given.write:
        write_figures(table)


if __name__ == "__main__":
    main()
