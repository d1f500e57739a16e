"""One simulated course and what each rule set says of it; many of them on both cores."""

import sys
from collections.abc import Iterator, Sequence
from datetime import timedelta
from multiprocessing import Pool

from msgspec import Struct

from app.charting.facts import CourseFacts
from app.exchange.replay_rows import Columns, facts_of
from app.rules.policy import Policy, read_policy, starting_policy
from app.rules.watch import flags_of, sightings
from tests.bench.simulator.course import DAYS, START, Simulated, simulate
from tests.bench.simulator.events import EVENTS
from tests.bench.simulator.wards import RESTLESS, STEADY, WARDS, Ward
from tests.bench.watch_figures import Raise, handoffs, merged, open_at
from tests.bench.watch_naive import any_jump, any_value_outside

BLOCKS: tuple[tuple[Ward, float], ...] = (
    (STEADY, 0.7),
    (STEADY, 1.0),
    (STEADY, 1.5),
    (RESTLESS, 1.0),
    (RESTLESS, 1.5),
)
"""Which ward at which charting noise (SD of one pressure, cmH2O)."""

QUIET, WITH_EVENT = 400, 200
TUNING, REPORT = 100_000, 900_000
SETS = ("rules", "any value outside", "any jump")
WITHIN_H = 48.0
"""Hours from the onset within which a flag counts as finding it."""


class Job(Struct, frozen=True):
    """One course to simulate and judge; `event` is its place in EVENTS, -1 for quiet."""

    seed: int
    noise: float
    event: int
    policy: str = ""
    ward: str = STEADY.name


class Outcome(Struct, frozen=True):
    """Per rule set: merged flags, lines open at each handoff, hours to the first find or None."""

    job: Job
    raised: tuple[int, ...]
    by_group: tuple[dict[str, int], ...]
    waiting: tuple[tuple[int, ...], ...]
    delay: tuple[float | None, ...]
    rules: tuple[str, ...] = ()
    """Of every flag that was raised, safety aside: its rule."""


def judge(job: Job) -> Outcome:
    """Simulate one course and let every rule set look at it."""
    event = EVENTS[job.event] if job.event >= 0 else None
    course = simulate(job.seed, job.noise, event, _ward(job.ward))
    facts, policy = facts_from(course), policy_from(job.policy)
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
        tuple(flag.rule for flag in flags if flag.group != "safety"),
    )


def _ward(name: str) -> Ward:
    return next(ward for ward in WARDS if ward.name == name)


def policy_from(text: str) -> Policy:
    """The policy of a TOML text; the shipped one for an empty text."""
    return read_policy(text) if text else starting_policy()


def facts_from(course: Simulated) -> CourseFacts:
    """The simulated rows as facts, through the reader of `leeboard replay`."""
    names = ["course", "observed_at", *sorted({name for _, row in course.rows for name in row})]
    columns = Columns({name: place for place, name in enumerate(names)})
    lines = [(at, ["", "", *(row.get(name, "") for name in names[2:])]) for at, row in course.rows]
    return facts_of("simulated", lines, columns)


def _delay(raises: Sequence[Raise], course: Simulated) -> float | None:
    """Hours from the onset to the first flag of the event's groups, within its time."""
    if course.event is None or course.onset is None:
        return None
    hours = (
        (found.raised_at - course.onset) / timedelta(hours=1)
        for found in raises
        if found.group in course.event.groups
    )
    return min((hour for hour in hours if 0 < hour <= WITHIN_H), default=None)


def jobs(first: int, quiet: int, each: int, policy: str) -> Iterator[Job]:
    """Every course of the bench, on seeds that begin at `first`."""
    for ward, noise in BLOCKS:
        yield from (Job(first + n, noise, -1, policy, ward.name) for n in range(quiet))
        for place in range(len(EVENTS)):
            start = first + 10_000 * (place + 1)
            yield from (Job(start + n, noise, place, policy, ward.name) for n in range(each))


def run(todo: Sequence[Job], workers: int = 2) -> list[Outcome]:
    """Judge them all, with a bar on a terminal."""
    done: list[Outcome] = []
    with Pool(workers) as pool:
        for outcome in pool.imap_unordered(judge, todo, chunksize=8):
            done.append(outcome)
            _bar(len(done), len(todo))
    return done


def _bar(done: int, of: int) -> None:
    if sys.stderr.isatty() or done == of:
        filled = 40 * done // of
        end = "\n" if done == of else ""
        bar = f"\r[{'#' * filled}{'.' * (40 - filled)}] {done}/{of}"
        print(bar, end=end, file=sys.stderr, flush=True)  # noqa: T201
