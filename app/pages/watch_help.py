"""The help page of the rules: what each says, its numbers in force, and what the rules measured.

Figures are those of the bench, dated; they say what was found of what was simulated, never what a
flag means in a patient (decision 35).
"""

from collections.abc import Iterator
from datetime import date

from msgspec import Struct

from app.pages.flag_words import GROUP_WORDS
from app.pages.frame import Frame
from app.pages.watch_words import raising_words
from app.rules.measured import Block, Found, Interval, Measured
from app.rules.policy import GROUPS, Policy, starting_policy
from app.rules.watch.overdue import RULE as OVERDUE
from app.rules.watch.rule import Rule
from app.rules.watch.rules import RULES
from app.rules.watch.words import bounds_of, source_of

WARD_WORDS = {
    "steady": "Lungs and settings that change little",
    "restless": "Lungs and settings that change more, events milder, sudden ones over in a day",
}


class RuleEntry(Struct, frozen=True):
    """One rule: its sentence, and what the policy in force makes of it."""

    key: str
    sentence: str
    raises: str
    clears: str
    source: str
    information: bool
    differs: bool
    """Whether this unit's numbers are not those that the figures were measured with."""


class RuleGroup(Struct, frozen=True):
    """The rules of one cause; their flags share a line."""

    heading: str
    anchor: str
    entries: tuple[RuleEntry, ...]


class FoundRow(Struct, frozen=True):
    """What was simulated, and how much of it was found, after how long."""

    words: str
    share: str
    hours: str


class MeasuredBlock(Struct, frozen=True):
    """One simulated ward at one charting noise."""

    heading: str
    anchor: str
    quiet: str
    naive: str
    handoffs: str
    rows: tuple[FoundRow, ...]


class WatchHelp(Struct, frozen=True):
    """Every rule and every figure."""

    frame: Frame
    policy_words: str
    groups: tuple[RuleGroup, ...]
    measured_on: str
    measured_with: str
    seeds: str
    blocks: tuple[MeasuredBlock, ...]
    tables: str
    differing: int
    """How many rules this unit set otherwise: the figures do not hold for those."""


def watch_help(frame: Frame, policy: Policy, figures: Measured) -> WatchHelp:
    """The rules under the unit's policy, and what the bench measured for those that ship."""
    groups = tuple(_groups(policy))
    return WatchHelp(
        frame,
        policy.words,
        groups,
        f"{date.fromisoformat(figures.measured_on):%-d %B %Y}",
        figures.measured_with,
        f"Seeds from {figures.seeds_from}, on which no rule was tuned",
        tuple(_block(number, block) for number, block in enumerate(figures.blocks, start=1)),
        _tables(figures),
        sum(entry.differs for group in groups for entry in group.entries),
    )


def _groups(policy: Policy) -> Iterator[RuleGroup]:
    shipped = starting_policy()
    for group in GROUPS:
        rules = [rule for rule in (*RULES, OVERDUE) if rule.group == group]
        entries = tuple(_entry(rule, policy, shipped) for rule in rules)
        yield RuleGroup(GROUP_WORDS[group], f"rules-{group}", entries)


def _entry(rule: Rule, policy: Policy, shipped: Policy) -> RuleEntry:
    bounds = bounds_of(rule, policy, None)
    differs = _numbers(rule, policy) != _numbers(rule, shipped)
    if bounds is None:
        return RuleEntry(
            rule.key, rule.sentence, "not in use in this unit", "", "", rule.information, differs
        )
    return RuleEntry(
        rule.key,
        rule.sentence,
        raising_words(rule, bounds),
        rule.test.clearing(bounds),
        source_of(bounds),
        rule.information,
        differs,
    )


def _numbers(rule: Rule, policy: Policy) -> tuple[object, ...]:
    """What the rule judges by; words and sources make no difference to what it finds."""
    figures, limit = policy.rules[rule.key], policy.limits.get(rule.limit)
    base = policy.rules["baseline"].numbers if rule.drift else {}
    ends = (limit.under, limit.over) if limit is not None else ()
    return dict(figures.numbers), figures.on, dict(base), ends


def _block(number: int, block: Block) -> MeasuredBlock:
    quiet, naive = _interval(block.per_shift, ".2f"), _interval(block.per_shift_naive, ".2f")
    return MeasuredBlock(
        f"{WARD_WORDS[block.ward]}; charting noise {block.noise:g} cmH2O",
        f"measured-{number}",
        f"{quiet} lines a shift on {block.quiet_courses} courses in which nothing was simulated.",
        f"Calling any value outside a limit a flag: {naive}.",
        f"Open at a handoff: {block.open_at_handoff:.2f} lines on average, "
        f"none at {_percent(block.handoffs_without)} % of handoffs.",
        tuple(map(_found, block.found)),
    )


def _found(found: Found) -> FoundRow:
    hours = f"{_interval(found.hours, '.1f')} h" if found.hours else "none found"
    return FoundRow(found.words, _share(found.share), hours)


def _interval(interval: Interval, form: str) -> str:
    middle, low, high = (
        format(number, form) for number in (interval.middle, interval.low, interval.high)
    )
    return f"{middle} ({low} to {high})"


def _share(interval: Interval) -> str:
    middle, low, high = map(_percent, (interval.middle, interval.low, interval.high))
    return f"{middle} % ({low} to {high} %)"


def _percent(share: float) -> str:
    return f"{100 * share:.0f}"


def _tables(figures: Measured) -> str:
    tables = figures.tables
    return (
        f"On {tables.courses} open, de-identified courses of {tables.bed_days:g} bed-days: "
        f"{tables.per_bed_day:.2f} flags a bed-day, of which "
        f"{_share(tables.gone_at_next)} were back at the next value. "
        "What really happened to these people is in no table, so nothing is called found there."
    )
