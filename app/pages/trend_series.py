"""One series of a trend: its marks, the line between them, the ranges it is held against.

A setting holds until it is set anew, so it is drawn as steps. What was measured is drawn as points.
What was worked out is joined only across checks that each had a value: where it is not valid there
is a gap, and the reason stands in the table (decision 9: missing is not normal). Nor does a line go
on across another tube, with which it begins anew.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from itertools import pairwise

from app.charting.airways import NEW_TUBE
from app.charting.field import Manner
from app.charting.fields import FIELDS
from app.pages.bed import Known
from app.pages.series import Point, points_of
from app.pages.shown import Drawn
from app.pages.times import clock_time, when_in
from app.pages.trend_axes import TimeAxis, ValueAxis, percent, value_axis
from app.pages.trends_page import Patch, Stroke, Trend, TrendMark, TrendValue
from app.pages.values import as_number, limit_of, reading_text
from app.physiology.catalogue import CATALOGUE
from app.rules.policy import Limit
from app.rules.watch.policies import Policies


@dataclass(frozen=True, slots=True)
class Held:
    """One point with its number and the limit that was in force at its moment (decision 13)."""

    point: Point
    number: float | None
    limit: Limit | None

    @property
    def at(self) -> datetime:
        """When it was observed."""
        return self.point.row.observed_at

    @property
    def counts(self) -> bool:
        """Whether it is a number that stands."""
        return self.number is not None and self.point.row.counts

    @property
    def side(self) -> str:
        """ "over", "under" or nothing, as displayed (decision 3)."""
        shown = as_number(self.point.shown.text)
        if self.limit is None or shown is None or not self.counts:
            return ""
        return self.limit.beyond(shown)


def trend_of(key: str, course: Known, policies: Policies, axis: TimeAxis) -> Trend | None:
    """The series over the time shown; None where it has nothing there."""
    every = [_held(point, course, policies) for point in points_of(key, course)]
    here = [held for held in every if axis.holds(held.at)]
    kind = _kind(key)
    before = [held for held in every if held.at < axis.from_at and held.counts]
    carried = before[-1:] if kind == "step" else []
    numbers = [held.number for held in (*carried, *here) if held.number is not None]
    if not numbers:
        return None
    limit = _limit_at(key, course, policies, axis.to_at)
    ends = list(_ends(here, limit))
    values = value_axis([*numbers, *map(float, ends)])
    label, unit = _label(key, course)
    newest = next((held for held in reversed(here) if held.counts), None)
    return Trend(
        key=key,
        label=label,
        unit=unit,
        kind=kind,
        newest=newest.point.shown if newest else None,
        limit_words=_limit_words(limit),
        top=values.words(values.high),
        bottom=values.words(values.low),
        strokes=tuple(_strokes(kind, [*carried, *here], axis, values, _new_tubes(course))),
        bands=tuple(_bands(key, course, policies, axis, values)),
        marks=tuple(_marks(here, axis, values, course)),
        values=tuple(_value(held, course) for held in reversed(here)),
        summary=_summary(label, unit, here, course),
    )


def _kind(key: str) -> str:
    if key in CATALOGUE:
        return "line"
    return "step" if FIELDS[key].manner is Manner.SETTING else "point"


def _label(key: str, course: Known) -> tuple[str, str]:
    if key in FIELDS:
        return FIELDS[key].label, course.words.fields[key].unit
    return CATALOGUE[key].label, CATALOGUE[key].unit


def _held(point: Point, course: Known, policies: Policies) -> Held:
    number = as_number(point.shown.text)
    limit = _limit_at(point.shown.key, course, policies, point.row.observed_at)
    return Held(point, float(number) if number is not None else None, limit)


def _limit_at(key: str, course: Known, policies: Policies, at: datetime) -> Limit | None:
    limit = policies.at(at).limits.get(key)
    if limit is not None and limit.of_patient:
        return _ordered(limit, course, at)
    adult = course.summary.adult
    return limit_of(key, policies.at(at), adult=adult, words=course.words)


def _ordered(limit: Limit, course: Known, at: datetime) -> Limit | None:
    """The lower end of this patient's own band from its order on, as the limits judge it; what was
    ordered before it is no longer known here."""
    targets = course.facts.targets
    if targets.spo2_low is None or (targets.ordered_at is not None and at < targets.ordered_at):
        return None
    return replace(limit, under=targets.spo2_low, of_patient=False)


def _ends(here: Sequence[Held], now: Limit | None) -> Iterator[float]:
    """The limits' ends, so that a number stands beside the line that it is held against."""
    for limit in (*(held.limit for held in here), now):
        if limit is not None:
            yield from (float(end) for end in (limit.under, limit.over) if end is not None)


def _limit_words(limit: Limit | None) -> str:
    if limit is None:
        return ""
    over = f"over {limit.over:f}" if limit.over is not None else ""
    under = f"under {limit.under:f}" if limit.under is not None else ""
    return f"outside: {' or '.join(filter(None, (under, over)))}"


def _new_tubes(course: Known) -> tuple[datetime, ...]:
    return tuple(each.observed_at for each in course.facts.airways if each.act in NEW_TUBE)


def _strokes(
    kind: str,
    held: Sequence[Held],
    axis: TimeAxis,
    values: ValueAxis,
    new_tubes: Sequence[datetime],
) -> Iterator[Stroke]:
    if kind == "step":
        yield from _steps([each for each in held if each.counts], axis, values)
    elif kind == "line":
        standing = [each for each in held if each.point.row.counts]
        for one, two in pairwise(standing):
            if any(one.at < at <= two.at for at in new_tubes):
                continue
            if one.number is not None and two.number is not None:
                y1, y2 = values.at(one.number), values.at(two.number)
                yield Stroke(axis.at(one.at), y1, axis.at(two.at), y2)


def _steps(held: Sequence[Held], axis: TimeAxis, values: ValueAxis) -> Iterator[Stroke]:
    for number, each in enumerate(held):
        after = held[number + 1] if number + 1 < len(held) else None
        until = after.at if after else axis.to_at
        y = values.at(each.number or 0.0)
        yield Stroke(axis.at(each.at), y, axis.at(until), y)
        if after is not None and after.number != each.number:
            x = axis.at(after.at)
            yield Stroke(x, y, x, values.at(after.number or 0.0))


def _bands(
    key: str, course: Known, policies: Policies, axis: TimeAxis, values: ValueAxis
) -> Iterator[Patch]:
    """What lies beyond the limit, for as long as each policy was in force."""
    ordered_at = course.facts.targets.ordered_at
    moments = sorted({*policies.changed_at, *([ordered_at] if ordered_at else [])})
    changes = [at for at in moments if axis.from_at < at < axis.to_at]
    starts = [axis.from_at, *changes]
    for start, end in zip(starts, [*changes, axis.to_at], strict=True):
        limit = _limit_at(key, course, policies, start)
        if limit is None:
            continue
        left, width = axis.share(start), axis.share(end) - axis.share(start)
        if limit.over is not None:
            height = values.share(float(limit.over))
            yield Patch(percent(left), "0%", percent(width), percent(height))
        if limit.under is not None:
            top = values.share(float(limit.under))
            yield Patch(percent(left), percent(top), percent(width), percent(100 - top))


def _marks(
    here: Sequence[Held], axis: TimeAxis, values: ValueAxis, course: Known
) -> Iterator[TrendMark]:
    for held in here:
        x, said = axis.at(held.at), _said(held, course)
        if held.number is None:
            if held.point.shown.drawn is not Drawn.NOTHING and held.point.row.counts:
                yield TrendMark(x, "100%", "none", said)
            continue
        before = _before_correction(held)
        if before is not None:
            yield TrendMark(x, values.at(before), "was", "")
        drawn = (held.side or "point") if held.counts else "struck"
        yield TrendMark(x, values.at(held.number), drawn, said)


def _before_correction(held: Held) -> float | None:
    """The number that a correction took the place of; it stays to see, struck."""
    reading = held.point.reading
    if reading is None or reading.corrected_from is None:
        return None
    number = reading.corrected_from.number
    return float(number) if number is not None else None


def _said(held: Held, course: Known) -> str:
    when = clock_time(held.at, course.now, course.clock)
    text = held.point.shown.text
    words = _words(held, course)
    return ", ".join(filter(None, (when, text or "no value", words)))


def _words(held: Held, course: Known) -> str:
    """What stands beside a value in the table: beyond which limit, corrected, struck, why none."""
    shown, reading = held.point.shown, held.point.reading
    if not held.point.row.counts:
        return "struck" if held.point.row.struck else "unsigned, no fact"
    if not shown.text:
        return shown.word
    found = []
    if held.side and held.limit is not None:
        end = held.limit.over if held.side == "over" else held.limit.under
        found.append(f"{held.side} {end:f}")
    if reading is not None and reading.corrected_from is not None:
        old = reading_text(course.words.fields[reading.field], reading.corrected_from)
        found.append(f"corrected, was {old or 'not done'}")
    return ", ".join(found)


def _value(held: Held, course: Known) -> TrendValue:
    shown = held.point.shown
    return TrendValue(when_in(held.at, course.now, course.clock), shown, _words(held, course))


def _summary(label: str, unit: str, here: Sequence[Held], course: Known) -> str:
    standing = [held for held in here if held.counts]
    if not standing:
        return f"{label}: no value in this time; set before it."
    numbered = sorted(standing, key=lambda held: held.number or 0.0)
    low, high = (held.point.shown.text for held in (numbered[0], numbered[-1]))
    newest = standing[-1]
    when = clock_time(newest.at, course.now, course.clock)
    count = "1 value" if len(standing) == 1 else f"{len(standing)} values"
    between = f" from {low} to {high}" if low != high else ""
    outside = sum(bool(held.side) for held in standing)
    beyond = f"; {outside} outside" if outside else ""
    return f"{label}: {count}{between}, newest {newest.point.shown.text} {unit} at {when}{beyond}."
