"""What stands out at a bed, in words: flags by cause, outside once, not evaluable, overdue.

Says what is and where it comes from; never what to do (decision 11).
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime

from app.charting.shown import signed
from app.pages.due_words import away_worry
from app.pages.flag_words import (
    BASED_ON_CORRECTED,
    flag_words,
    group_words,
    label_of,
    once_words,
)
from app.pages.muted_words import muted_worry
from app.pages.short_words import brief_reason, mid_sentence
from app.pages.shown import Tone, Worry
from app.pages.site_words import PLAIN, SiteWords
from app.pages.times import clock_time, when_in
from app.rules.bed_summary import BedSummary
from app.rules.flags_now import SAFETY, GroupNow, OnceNow
from app.rules.standing import NOT_EVALUABLE, Statement, Verdict
from app.rules.unit_clock import UnitClock

__all__ = ["ADULT_OFF", "BASED_ON_CORRECTED", "NO_FLAG", "label_of", "worries_of"]

NO_FLAG = "No flag raised"
"""What an unflagged bed reads (decision 28); never "safe", never "within limits"."""

ADULT_OFF = "Below the unit's adult age: adult formulae, limits and rules are off."

_ORDER = (
    Tone.FLAG,
    Tone.OVERDUE,
    Tone.AWAY,
    Tone.MUTED,
    Tone.ONCE,
    Tone.SEEN,
    Tone.NOT_EVALUABLE,
    Tone.NOTE,
)


def worries_of(
    summary: BedSummary,
    now: datetime,
    clock: UnitClock,
    *,
    every: bool = False,
    words: SiteWords = PLAIN,
    base: str = "",
    brief: bool = False,
) -> tuple[Worry, ...]:
    """Most pressing first, one line per cause. `every` adds what is not essential but missing;
    `brief` leaves out the values that raised a flag.

    `base` is the course's address, where a flag's line leads to what explains it.
    """
    if summary.muted is not None:
        found = list(muted_worry(summary, now, clock))
    elif not summary.adult:
        found = [Worry(Tone.NOT_EVALUABLE, "Adult limits are off", ADULT_OFF)]
    else:
        groups = summary.flags_at(now)
        found = [
            _flag(group, group_words(group, now, clock, words, brief=brief), now, clock, base)
            for group in groups
        ]
        found += _once(summary.once, now, clock, words)
        found += _not_evaluable(summary, now, clock, every=every, words=words)
        found += _information(summary, now, clock, words)
    found += away_worry(summary, now, clock)
    found += _overdue(summary, now, clock)
    return tuple(sorted(found, key=_rank))


def _rank(worry: Worry) -> tuple[int, bool]:
    return _ORDER.index(worry.tone), worry.group == SAFETY


def _flag(
    group: GroupNow, told: tuple[str, str], now: datetime, clock: UnitClock, base: str
) -> Worry:
    """The tone goes off when somebody has seen it, or muted it; the flag itself stays."""
    quiet = group.muted_until(now) is not None or not group.unanswered()
    newest = [each.newest.at for each in group.flags if each.newest is not None]
    return Worry(
        Tone.SEEN if quiet else Tone.FLAG,
        *told,
        when_in(max(newest), now, clock) if newest else None,
        group=group.group,
        href=f"{base}/flags/{group.group}" if base else "",
    )


def _once(
    once: Iterable[OnceNow], now: datetime, clock: UnitClock, words: SiteWords
) -> Iterator[Worry]:
    """One line per cause, with when it is to be read again (decision 26)."""
    by_group: dict[str, list[OnceNow]] = {}
    for each in once:
        by_group.setdefault(each.once.group, []).append(each)
    for group, (first, *others) in by_group.items():
        again = f"read again by {clock_time(first.once.read_again_at, now, clock)}"
        also = [f"also {once_words(each.once, words)}" for each in others]
        based = [BASED_ON_CORRECTED] if any(each.corrected for each in (first, *others)) else []
        when = when_in(first.once.value.at, now, clock)
        detail = "; ".join((again, *also, *based))
        yield Worry(Tone.ONCE, once_words(first.once, words), detail, when, group=group)


def _not_evaluable(
    summary: BedSummary, now: datetime, clock: UnitClock, *, every: bool, words: SiteWords
) -> Iterator[Worry]:
    """Not done though possible, or too old (decision 28); one line per cause."""
    groups: dict[str, Statement] = {}
    for told in (entry.as_of(now) for entry in summary.statements):
        if told.verdict in NOT_EVALUABLE and (every or told.essential):
            groups.setdefault(told.group, told)
    yield from (_absence(told, now, clock, words) for told in groups.values())


def _absence(told: Statement, now: datetime, clock: UnitClock, words: SiteWords) -> Worry:
    label, last = label_of(told.key), _last(told, now, clock, words)
    if told.verdict is Verdict.TOO_OLD:
        what = f"Too old to judge: {mid_sentence(label)}"
    else:
        reason = brief_reason(told.reason, told.missing)
        what = f"Cannot be judged: {reason}" if told.essential else f"{label} not known: {reason}"
    return Worry(Tone.NOT_EVALUABLE, what, last, group=told.group)


def _information(
    summary: BedSummary, now: datetime, clock: UnitClock, words: SiteWords
) -> Iterator[Worry]:
    for told in summary.told:
        at = told.newest.at if told.newest is not None else told.flag.raised_at
        yield Worry(
            Tone.NOTE,
            flag_words(told, now, clock, words),
            f"Told as information, {clock_time(at, now, clock)}",
            group=told.flag.group,
        )


def _last(told: Statement, now: datetime, clock: UnitClock, words: SiteWords) -> str:
    if not told.last_shown or told.last_at is None:
        return "No valid value yet"
    label = mid_sentence(label_of(told.key))
    value = signed(words.text(told.key, told.last_shown))
    return f"Last valid {label} {value}, {clock_time(told.last_at, now, clock)}"


def _overdue(summary: BedSummary, now: datetime, clock: UnitClock) -> Sequence[Worry]:
    paused = summary.away is not None or summary.muted is not None
    if paused or summary.due.state(now) != "overdue":
        return []
    last = (
        f"Last full check {clock_time(summary.last_check_at, now, clock)}, {summary.last_check_by}"
        if summary.last_check_at
        else "No full check yet"
    )
    due = clock_time(summary.due.due_at, now, clock)
    return [Worry(Tone.OVERDUE, f"Check overdue: was due {due}", last)]
