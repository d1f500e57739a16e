"""`make bench-watch`: what the rules find on simulated courses, what they raise where nothing is.

Rules are tuned on one range of seeds and reported on another: `--tuning` takes the first.
"""

import argparse
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from multiprocessing import Pool
from pathlib import Path

from app.charting.facts import CourseFacts
from app.exchange.replay_rows import Columns, facts_of
from app.rules.policy import Policy, read_policy, starting_policy
from app.rules.watch import flags_of, sightings
from tests.bench.simulator.course import DAYS, START, Simulated, simulate
from tests.bench.simulator.events import EVENTS
from tests.bench.watch_clif import Counted, on_tables
from tests.bench.watch_figures import (
    SHIFT_H,
    Raise,
    handoffs,
    mean_interval,
    median_interval,
    merged,
    open_at,
    share_interval,
)
from tests.bench.watch_naive import any_jump, any_value_outside

NOISES = (0.7, 1.0, 1.5)
QUIET, WITH_EVENT = 400, 200
TUNING, REPORT = 100_000, 900_000
SETS = ("rules", "any value outside", "any jump")
WITHIN_H = 48.0
"""Hours from the onset within which a flag counts as finding it."""


@dataclass(frozen=True, slots=True)
class Job:
    """One course to simulate and judge; `event` is its place in EVENTS, -1 for quiet."""

    seed: int
    noise: float
    event: int
    policy: str = ""


@dataclass(frozen=True, slots=True)
class Outcome:
    """Per rule set: merged flags, lines open at each handoff, hours to the first find or None."""

    job: Job
    raised: tuple[int, ...]
    by_group: tuple[dict[str, int], ...]
    waiting: tuple[tuple[int, ...], ...]
    delay: tuple[float | None, ...]


def judge(job: Job) -> Outcome:
    """Simulate one course and let every rule set look at it."""
    event = EVENTS[job.event] if job.event >= 0 else None
    course = simulate(job.seed, job.noise, event)
    facts, policy = _facts(course), _policy(job.policy)
    rows = list(sightings(facts, policy))
    flags = flags_of(facts, policy, facts.assessments[-1].observed_at)
    sets = (
        [Raise(flag.group, flag.raised_at, flag.cleared_at) for flag in flags],
        any_value_outside(rows, policy),
        any_jump(rows),
    )
    lines = [merged(raises) for raises in sets]
    return Outcome(
        job,
        tuple(sum(map(len, spans.values())) for spans in lines),
        tuple({group: len(spans) for group, spans in of_set.items()} for of_set in lines),
        tuple(tuple(open_at(spans, at) for at in handoffs(START, DAYS)) for spans in lines),
        tuple(_delay(raises, course) for raises in sets),
    )


def _policy(text: str) -> Policy:
    return read_policy(text) if text else starting_policy()


def _facts(course: Simulated) -> CourseFacts:
    names = ["course", "observed_at", *sorted({name for _, row in course.rows for name in row})]
    columns = Columns({name: place for place, name in enumerate(names)})
    lines = [(at, ["", "", *(row.get(name, "") for name in names[2:])]) for at, row in course.rows]
    return facts_of("simulated", lines, columns)


def _delay(raises: list[Raise], course: Simulated) -> float | None:
    if course.event is None or course.onset is None:
        return None
    hours = (
        (found.raised_at - course.onset).total_seconds() / 3600
        for found in raises
        if found.group in course.event.groups
    )
    return min((hour for hour in hours if 0 < hour <= WITHIN_H), default=None)


def _jobs(first: int, quiet: int, each: int, policy: str) -> Iterator[Job]:
    for noise in NOISES:
        yield from (Job(first + n, noise, -1, policy) for n in range(quiet))
        for place in range(len(EVENTS)):
            start = first + 10_000 * (place + 1)
            yield from (Job(start + n, noise, place, policy) for n in range(each))


def _run(jobs: list[Job]) -> list[Outcome]:
    done: list[Outcome] = []
    with Pool(2) as pool:
        for outcome in pool.imap_unordered(judge, jobs, chunksize=8):
            done.append(outcome)
            _bar(len(done), len(jobs))
    return done


def _bar(done: int, of: int) -> None:
    if sys.stderr.isatty() or done == of:
        filled = 40 * done // of
        end = "\n" if done == of else ""
        bar = f"\r[{'#' * filled}{'.' * (40 - filled)}] {done}/{of}"
        print(bar, end=end, file=sys.stderr, flush=True)  # noqa: T201


def _say(text: str = "") -> None:
    print(text)  # noqa: T201


def _report(done: list[Outcome]) -> None:
    for noise in NOISES:
        quiet = [found for found in done if found.job.noise == noise and found.job.event < 0]
        _say(f"\nCharting noise {noise} cmH2O: {len(quiet)} quiet courses of {DAYS} days")
        for place, name in enumerate(SETS):
            _say(_quiet_line(name, place, quiet))
        _say(f"  by group: {_groups(quiet)}")
        for number, event in enumerate(EVENTS):
            told = [f for f in done if f.job.noise == noise and f.job.event == number]
            _say(_event_line(event.name, told))


def _quiet_line(name: str, place: int, quiet: list[Outcome]) -> str:
    shifts = DAYS * 24 / SHIFT_H
    rate, low, high = mean_interval([found.raised[place] / shifts for found in quiet])
    waiting = [count for found in quiet for count in found.waiting[place]]
    none = sum(count == 0 for count in waiting) / len(waiting)
    return (
        f"  {name:<18} {rate:.3f} ({low:.3f} to {high:.3f}) merged flags per shift, "
        f"open at handoff {sum(waiting) / len(waiting):.2f}, none at {none:.0%}"
    )


def _groups(quiet: list[Outcome]) -> str:
    shifts = len(quiet) * DAYS * 24 / SHIFT_H
    counts: dict[str, int] = {}
    for found in quiet:
        for group, count in found.by_group[0].items():
            counts[group] = counts.get(group, 0) + count
    return ", ".join(f"{group} {count / shifts:.3f}" for group, count in sorted(counts.items()))


def _event_line(name: str, told: list[Outcome]) -> str:
    cells = []
    for place, label in enumerate(SETS):
        delays = [found.delay[place] for found in told]
        hours = [delay for delay in delays if delay is not None]
        share, low, high = share_interval(len(hours), len(told))
        cell = f"{share:.0%} ({low:.0%} to {high:.0%})"
        if hours:
            median, early, late = median_interval(hours)
            cell += f" {median:.1f} h ({early:.1f} to {late:.1f})"
        cells.append(cell if place == 0 else f"{label} {cell}")
    return f"  {name:<28} " + " | ".join(cells)


def _report_tables(policy: Policy) -> None:
    seen = on_tables(policy)
    _say(f"\nOpen CLIF demo tables: {seen.courses} courses, {seen.bed_days:.0f} bed-days")
    for name, counted in (("rules", seen.rules), ("any value outside", seen.naive)):
        _say(_tables_line(name, counted, seen.bed_days))


def _tables_line(name: str, counted: Counted, bed_days: float) -> str:
    gone, low, high = share_interval(counted.gone, counted.followed)
    return (
        f"  {name:<18} {counted.raises / bed_days:.2f} raises per bed-day, "
        f"{counted.merged / bed_days:.2f} merged; gone at the next value "
        f"{gone:.0%} ({low:.0%} to {high:.0%})"
    )


def main() -> None:
    """Run the bench and print its figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="A fifth of the courses.")
    parser.add_argument("--tuning", action="store_true", help="The seeds that rules are tuned on.")
    parser.add_argument("--policy", type=Path, help="A policy in TOML in place of the shipped one.")
    given = parser.parse_args()
    policy = given.policy.read_text(encoding="utf-8") if given.policy else ""
    share = 5 if given.quick else 1
    first = TUNING if given.tuning else REPORT
    _report(_run(list(_jobs(first, QUIET // share, WITH_EVENT // share, policy))))
    _report_tables(_policy(policy))


if __name__ == "__main__":
    main()
