"""One series over a span of time: its values, the line between them, the ranges held against it.

A setting holds until it is set anew, so its line has steps. What was measured has points only.
What was worked out is joined only across checks that each had a value: where it is not valid there
is a gap, and the reason stands in the table (decision 9: missing is not normal). Nor does a line go
on across another tube, with which it begins anew.
"""

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace

from app.charting.airways import NEW_TUBE
from app.charting.field import Manner
from app.charting.fields import FIELDS
from app.pages.known import Known
from app.pages.series import Point, points_of
from app.pages.shown import Drawn
from app.pages.times import clock_time
from app.pages.trend_axes import TimeAxis
from app.pages.values import as_number, limit_of, reading_text
from app.physiology.catalogue import CATALOGUE
from app.rules.muted import muted_moments
from app.rules.policy import Limit
from app.rules.watch.policies import Policies


class Held(Struct, frozen=True):
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

    @property
    def drawn(self) -> str:
        """How it is drawn; nothing where a value has no meaning, or none was asked."""
        if self.number is None:
            missing = self.point.shown.drawn is not Drawn.NOTHING and self.point.row.counts
            return "none" if missing else ""
        return (self.side or "point") if self.counts else "struck"

    @property
    def before_correction(self) -> float | None:
        """The number that a correction took the place of; it stays to see, struck."""
        reading = self.point.reading
        if reading is None or reading.corrected_from is None:
            return None
        number = reading.corrected_from.number
        return float(number) if number is not None else None


class LimitFor(Struct, frozen=True):
    """A limit and the part of the time shown for which it was in force."""

    limit: Limit
    from_at: datetime
    to_at: datetime

    @property
    def over(self) -> float | None:
        """The upper end."""
        return float(self.limit.over) if self.limit.over is not None else None

    @property
    def under(self) -> float | None:
        """The lower end."""
        return float(self.limit.under) if self.limit.under is not None else None


class Series(Struct, frozen=True):
    """What is known of one key over the time shown, for whoever draws it."""

    key: str
    label: str
    unit: str
    kind: str
    """ "step", "point" or "line"."""
    axis: TimeAxis
    carried: Held | None
    """The setting that was in force when the time shown began."""
    here: tuple[Held, ...]
    limits: tuple[LimitFor, ...]
    limit_words: str
    new_tubes: tuple[datetime, ...]

    @property
    def numbers(self) -> list[float]:
        """Each number to find room for, and the limits' ends, which stand beside them."""
        each = [held.number for held in (*filter(None, [self.carried]), *self.here)]
        old = [held.before_correction for held in self.here]
        ends = [end for each in self.limits for end in (each.under, each.over)]
        return [number for number in (*each, *old, *ends) if number is not None]

    def line(self) -> list[tuple[datetime, float | None]]:
        """What a line goes through; None is a gap in it."""
        if self.kind == "step":
            return list(self._steps())
        return list(self._joined()) if self.kind == "line" else []

    def _steps(self) -> Iterator[tuple[datetime, float | None]]:
        standing = [held for held in self.here if held.counts]
        if self.carried is not None:
            yield self.axis.from_at, self.carried.number
        yield from ((held.at, held.number) for held in standing)
        last = standing[-1] if standing else self.carried
        if last is not None:
            yield self.axis.to_at, last.number

    def _joined(self) -> Iterator[tuple[datetime, float | None]]:
        before: datetime | None = None
        for held in self.here:
            if not held.point.row.counts:
                continue
            if before is not None:
                yield from ((at, None) for at in self.new_tubes if before < at <= held.at)
            yield held.at, held.number
            before = held.at


def series_of(key: str, course: Known, policies: Policies, axis: TimeAxis) -> Series | None:
    """The series over the time shown; None where it has nothing there."""
    every = [_held(point, course, policies) for point in points_of(key, course)]
    here = tuple(held for held in every if axis.holds(held.at))
    kind = _kind(key)
    before = [held for held in every if held.at < axis.from_at and held.counts]
    carried = before[-1] if kind == "step" and before else None
    if carried is None and not any(held.number is not None for held in here):
        return None
    label, unit = _label(key, course)
    return Series(
        key,
        label,
        unit,
        kind,
        axis,
        carried,
        here,
        tuple(_limits(key, course, policies, axis)),
        _limit_words(_limit_at(key, course, policies, axis.to_at)),
        tuple(each.observed_at for each in course.facts.airways if each.act in NEW_TUBE),
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
    if course.quiet_at(at):
        return None
    limit = policies.at(at).limits.get(key)
    if limit is not None and limit.of_patient:
        return _ordered(limit, course, at)
    adult = course.adult_at(at)
    return limit_of(key, policies.at(at), adult=adult, words=course.words)


def _ordered(limit: Limit, course: Known, at: datetime) -> Limit | None:
    """The lower end of this patient's own band from its order on, as the limits judge it; what was
    ordered before it is no longer known here."""
    targets = course.facts.targets
    if targets.spo2_low is None or (targets.ordered_at is not None and at < targets.ordered_at):
        return None
    return replace(limit, under=targets.spo2_low, of_patient=False)


def _limit_words(limit: Limit | None) -> str:
    if limit is None:
        return ""
    over = f"over {limit.over:f}" if limit.over is not None else ""
    under = f"under {limit.under:f}" if limit.under is not None else ""
    return f"outside: {' or '.join(filter(None, (under, over)))}"


def _limits(key: str, course: Known, policies: Policies, axis: TimeAxis) -> Iterator[LimitFor]:
    """The limits over the time shown, each for as long as it was in force."""
    ordered_at = course.facts.targets.ordered_at
    quiet = muted_moments(course.facts)
    moments = sorted({*policies.changed_at, *quiet, *([ordered_at] if ordered_at else [])})
    changes = [at for at in moments if axis.from_at < at < axis.to_at]
    starts = [axis.from_at, *changes]
    for start, end in zip(starts, [*changes, axis.to_at], strict=True):
        limit = _limit_at(key, course, policies, start)
        if limit is not None:
            yield LimitFor(limit, start, end)


def said_of(held: Held, course: Known) -> str:
    """What a reader hears of a value: "03:30, 16, over 15"."""
    when = clock_time(held.at, course.now, course.clock)
    text = held.point.shown.text
    return ", ".join(filter(None, (when, text or "no value", words_of(held, course))))


def words_of(held: Held, course: Known) -> str:
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


def summary_of(series: Series, course: Known) -> str:
    """The series in a sentence."""
    standing = [held for held in series.here if held.counts]
    if not standing:
        return f"{series.label}: no value in this time; set before it."
    numbered = sorted(standing, key=lambda held: held.number or 0.0)
    low, high = (held.point.shown.text for held in (numbered[0], numbered[-1]))
    newest = standing[-1]
    when = clock_time(newest.at, course.now, course.clock)
    count = "1 value" if len(standing) == 1 else f"{len(standing)} values"
    between = f" from {low} to {high}" if low != high else ""
    outside = sum(bool(held.side) for held in standing)
    beyond = f"; {outside} outside" if outside else ""
    last = f"{newest.point.shown.text} {series.unit}"
    return f"{series.label}: {count}{between}, newest {last} at {when}{beyond}."
