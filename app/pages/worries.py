"""What stands out at a bed, in words: outside the range this unit set, not evaluable, overdue.

Says what is and where it comes from; never what to do (decision 11).
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime

from app.charting.fields import FIELDS
from app.charting.shown import signed
from app.pages.short_words import brief_reason
from app.pages.shown import Tone, Worry
from app.pages.site_words import PLAIN, SiteWords
from app.pages.times import clock_time, when_in
from app.physiology.catalogue import CATALOGUE
from app.rules.bed_summary import BedSummary
from app.rules.standing import NOT_EVALUABLE, Statement, Verdict
from app.rules.unit_clock import UnitClock

NO_FLAG = "No flag raised"
"""What an unflagged bed reads (decision 28); never "safe", never "within limits"."""

BASED_ON_CORRECTED = "based on a corrected value"
"""What stands beside every number, flag and handoff line that used one."""

ADULT_OFF = "Below the unit's adult age: adult formulae, limits and rules are off."

_TONES = {
    Verdict.OUTSIDE: Tone.FLAG,
    Verdict.OUTSIDE_ONCE: Tone.ONCE,
    Verdict.NOTED: Tone.NOTE,
    Verdict.NOT_DONE: Tone.NOT_EVALUABLE,
    Verdict.TOO_OLD: Tone.NOT_EVALUABLE,
}
_ORDER = (Tone.FLAG, Tone.OVERDUE, Tone.ONCE, Tone.NOT_EVALUABLE, Tone.NOTE)


def worries_of(
    summary: BedSummary,
    now: datetime,
    clock: UnitClock,
    *,
    every: bool = False,
    words: SiteWords = PLAIN,
) -> tuple[Worry, ...]:
    """Most pressing first, one line per cause. `every` adds what is not essential but missing."""
    if not summary.adult:
        found = [Worry(Tone.NOT_EVALUABLE, "Adult limits are off", ADULT_OFF)]
    else:
        found = [
            _with_others(_worry(told, now, clock, words), told, others, words)
            for told, *others in _by_group(entry.as_of(now) for entry in summary.statements)
            if every or told.essential or _is_outside(told)
        ]
    found += _overdue(summary, now, clock)
    return tuple(sorted(found, key=lambda worry: _ORDER.index(worry.tone)))


def _is_outside(told: Statement) -> bool:
    return told.verdict in (Verdict.OUTSIDE, Verdict.OUTSIDE_ONCE, Verdict.NOTED)


def _by_group(told: Iterable[Statement]) -> Sequence[Sequence[Statement]]:
    """Driving pressure and plateau share one cause and one line; the more pressing comes first."""
    groups: dict[tuple[str, bool], list[Statement]] = {}
    for statement in told:
        if statement.verdict in _TONES:
            key = (statement.group, statement.verdict in NOT_EVALUABLE)
            groups.setdefault(key, []).append(statement)
    return [sorted(group, key=_rank) for group in groups.values()]


def _with_others(
    worry: Worry, told: Statement, others: Sequence[Statement], words: SiteWords
) -> Worry:
    """What else of the same cause lies outside, in the second line."""
    if not _is_outside(told) or not others:
        return worry
    also = "; ".join(f"also {_outside_words(other, words)}" for other in others)
    return replace(worry, detail="; ".join(filter(None, (worry.detail, also))))


def _rank(told: Statement) -> int:
    return _ORDER.index(_TONES[told.verdict])


def label_of(key: str) -> str:
    """The reader's word for a field or an index."""
    return FIELDS[key].label if key in FIELDS else CATALOGUE[key].label


def _worry(told: Statement, now: datetime, clock: UnitClock, words: SiteWords) -> Worry:
    label = label_of(told.key)
    when = when_in(told.at, now, clock) if told.at else None
    tone = _TONES[told.verdict]
    if told.verdict is Verdict.NOT_DONE:
        reason = brief_reason(told.reason, told.missing)
        what = "Cannot be judged" if told.essential else f"{label} not known"
        return Worry(tone, f"{what}: {reason}", _last(told, now, clock, words))
    if told.verdict is Verdict.TOO_OLD:
        return Worry(tone, f"Too old to judge: {label.lower()}", _last(told, now, clock, words))
    run = _run(told, now, clock)
    based = BASED_ON_CORRECTED if told.corrected else ""
    detail = ", ".join(filter(None, (run, based)))
    return Worry(tone, _outside_words(told, words), detail, None if run else when)


def _outside_words(told: Statement, words: SiteWords) -> str:
    once = " once" if told.verdict is Verdict.OUTSIDE_ONCE else ""
    value = signed(words.text(told.key, told.shown))
    limit = words.end(told.key, told.limit) if told.limit is not None else ""
    return f"{label_of(told.key)} {value}{once}, {told.side} {limit}".rstrip()


def _run(told: Statement, now: datetime, clock: UnitClock) -> str:
    """From when to when, where more than one value in a row lies outside."""
    first, newest = told.times[-1], told.times[0]
    times = f"{clock_time(first, now, clock)} to {clock_time(newest, now, clock)}"
    if told.verdict is Verdict.NOTED:
        return f"Own breaths: told as information, {clock_time(newest, now, clock)}"
    return f"{len(told.times)} values in a row, {times}" if len(told.times) > 1 else ""


def _last(told: Statement, now: datetime, clock: UnitClock, words: SiteWords) -> str:
    if not told.last_shown or told.last_at is None:
        return "No valid value yet"
    label = label_of(told.key).lower()
    value = signed(words.text(told.key, told.last_shown))
    return f"Last valid {label} {value}, {clock_time(told.last_at, now, clock)}"


def _overdue(summary: BedSummary, now: datetime, clock: UnitClock) -> list[Worry]:
    if summary.due.state(now) != "overdue":
        return []
    last = (
        f"Last full check {clock_time(summary.last_check_at, now, clock)}, {summary.last_check_by}"
        if summary.last_check_at
        else "No full check yet"
    )
    due = clock_time(summary.due.due_at, now, clock)
    return [Worry(Tone.OVERDUE, f"Check overdue: was due {due}", last)]
