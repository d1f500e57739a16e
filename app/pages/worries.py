"""What stands out at a bed, in words: outside the range this unit set, not evaluable, overdue.

Says what is and where it comes from; never what to do (decision 11).
"""

from collections.abc import Iterable, Sequence
from datetime import datetime

from app.charting.fields import FIELDS
from app.charting.shown import signed
from app.pages.short_words import brief_reason
from app.pages.shown import Tone, Worry
from app.pages.times import clock_time, when_in
from app.physiology.catalogue import CATALOGUE
from app.rules.bed_summary import BedSummary
from app.rules.standing import NOT_EVALUABLE, Statement, Verdict
from app.rules.unit_clock import UnitClock

NO_FLAG = "No flag raised"
"""What an unflagged bed reads (decision 28); never "safe", never "within limits"."""

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
    summary: BedSummary, now: datetime, clock: UnitClock, *, every: bool = False
) -> tuple[Worry, ...]:
    """Most pressing first, one line per cause. `every` adds what is not essential but missing."""
    if not summary.adult:
        found = [Worry(Tone.NOT_EVALUABLE, "Adult limits are off", ADULT_OFF)]
    else:
        found = [
            _worry(told, now, clock)
            for told in _one_per_group(statement.as_of(now) for statement in summary.statements)
            if told.verdict in _TONES and (every or told.essential or _is_outside(told))
        ]
    found += _overdue(summary, now, clock)
    return tuple(sorted(found, key=lambda worry: _ORDER.index(worry.tone)))


def _is_outside(told: Statement) -> bool:
    return told.verdict in (Verdict.OUTSIDE, Verdict.OUTSIDE_ONCE, Verdict.NOTED)


def _one_per_group(told: Iterable[Statement]) -> Sequence[Statement]:
    """Driving pressure and plateau share one cause: the more pressing of them speaks."""
    spoken: dict[tuple[str, bool], Statement] = {}
    for statement in told:
        if statement.verdict not in _TONES:
            continue
        key = (statement.group, statement.verdict in NOT_EVALUABLE)
        held = spoken.get(key)
        if held is None or _rank(statement) < _rank(held):
            spoken[key] = statement
    return list(spoken.values())


def _rank(told: Statement) -> int:
    return _ORDER.index(_TONES[told.verdict])


def label_of(key: str) -> str:
    """The reader's word for a field or an index."""
    return FIELDS[key].label if key in FIELDS else CATALOGUE[key].label


def _worry(told: Statement, now: datetime, clock: UnitClock) -> Worry:
    label = label_of(told.key)
    when = when_in(told.at, now, clock) if told.at else None
    tone = _TONES[told.verdict]
    if told.verdict is Verdict.NOT_DONE:
        reason = brief_reason(told.reason, told.missing)
        what = "Cannot be judged" if told.essential else f"{label} not known"
        return Worry(tone, f"{what}: {reason}", _last(told, now, clock))
    if told.verdict is Verdict.TOO_OLD:
        return Worry(tone, f"Too old to judge: {label.lower()}", _last(told, now, clock))
    once = " once" if told.verdict is Verdict.OUTSIDE_ONCE else ""
    words = f"{label} {signed(told.shown)}{once}, {told.side} {told.limit:f}"
    run = _run(told, now, clock)
    return Worry(tone, words, run, None if run else when)


def _run(told: Statement, now: datetime, clock: UnitClock) -> str:
    """From when to when, where more than one value in a row lies outside."""
    first, newest = told.times[-1], told.times[0]
    times = f"{clock_time(first, now, clock)} to {clock_time(newest, now, clock)}"
    if told.verdict is Verdict.NOTED:
        return f"Own breaths: told as information, {clock_time(newest, now, clock)}"
    return f"{len(told.times)} values in a row, {times}" if len(told.times) > 1 else ""


def _last(told: Statement, now: datetime, clock: UnitClock) -> str:
    if not told.last_shown or told.last_at is None:
        return "No valid value yet"
    label = label_of(told.key).lower()
    return f"Last valid {label} {signed(told.last_shown)}, {clock_time(told.last_at, now, clock)}"


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
