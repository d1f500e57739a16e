"""The figures that the help page shows, kept with the fingerprint of the rules they hold for."""

import hashlib
import json
from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import fields

from app.rules.measured import FIGURES_FILE
from app.rules.policy import starting_policy
from app.rules.watch import flags_of
from app.rules.watch.overdue import RULE as OVERDUE
from app.rules.watch.rules import RULES
from tests.bench.simulator.course import simulate
from tests.bench.simulator.events import EVENTS
from tests.bench.simulator.wards import RESTLESS
from tests.bench.watch_judge import facts_from
from tests.bench.watch_table import Table

SEED = 500_000
COURSES = 2
"""Fixed courses for each event: enough that a rule that judges otherwise is seen to."""


def fingerprint() -> str:
    """Of what each rule says, its numbers and limits, and what is raised on fixed courses.

    A rule that is written otherwise but does the same keeps it; one that raises or clears another
    flag on any of these courses does not.
    """
    told = "\n".join([*_declared(), *_raised()])
    return hashlib.sha256(told.encode()).hexdigest()


def _declared() -> Iterator[str]:
    policy = starting_policy()
    for rule in (*RULES, OVERDUE):
        figures, limit = policy.rules[rule.key], policy.limits.get(rule.limit)
        ends = (limit.under, limit.over) if limit is not None else ()
        said = {field.name: getattr(rule, field.name) for field in fields(rule)} | {
            "test": repr(rule.test) if isinstance(rule.test, Struct) else type(rule.test).__name__
        }
        yield f"{said} {sorted(figures.numbers.items())} {figures.on} {ends}"


def _raised() -> Iterator[str]:
    policy = starting_policy()
    for number, event in enumerate(EVENTS):
        for course in range(COURSES):
            facts = facts_from(simulate(SEED + 100 * number + course, 1.0, event, RESTLESS))
            for flag in flags_of(facts, policy, facts.assessments[-1].observed_at):
                yield f"{number} {course} {flag.rule} {flag.raised_at:%d %H} {flag.cleared_at}"


def write_figures(table: Table) -> None:
    """Keep what was measured, for the rules as they are now."""
    kept = {"fingerprint": fingerprint(), **table}
    text = json.dumps(kept, indent=1, ensure_ascii=False) + "\n"
    FIGURES_FILE.write_text(text, encoding="utf-8")
