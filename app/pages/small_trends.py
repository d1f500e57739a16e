"""A series in small: a picture of straight lines and marks at percentages of its own size.

It stands beside a row of the grid, on paper, and where no script draws the large one.
"""

from collections.abc import Iterator
from itertools import pairwise

from msgspec import Struct

from app.pages.known import Known
from app.pages.times import when_in
from app.pages.trend_axes import percent
from app.pages.trend_series import Held, Series, summary_of, words_of
from app.pages.trends_page import Patch, Stroke, Trend, TrendMark, TrendValue

ROOM = 0.08
"""Share of the height kept free over the greatest and under the least."""


class ValueAxis(Struct, frozen=True):
    """Between which two figures the values lie."""

    low: float
    high: float

    def share(self, number: float) -> float:
        """How far down from the top, 0 to 100."""
        return 100 * (self.high - number) / (self.high - self.low)

    def at(self, number: float) -> str:
        """The same as a picture writes it."""
        return percent(self.share(number))


def value_axis(numbers: list[float]) -> ValueAxis:
    """Every number with room to spare; a single one has as much on both sides."""
    low, high = min(numbers), max(numbers)
    room = ROOM * (high - low) or abs(high) * 0.1 or 1.0
    return ValueAxis(low - room, high + room)


def small_trend(series: Series, course: Known) -> Trend:
    """The picture, its sentence and its table."""
    values = value_axis(series.numbers)
    newest = next((held for held in reversed(series.here) if held.counts), None)
    return Trend(
        key=series.key,
        label=series.label,
        unit=series.unit,
        kind=series.kind,
        newest=newest.point.shown if newest else None,
        limit_words=series.limit_words,
        ends=tuple(dict.fromkeys(_figure(end(series.numbers)) for end in (max, min))),
        strokes=tuple(_strokes(series, values)),
        bands=tuple(_bands(series, values)),
        marks=tuple(_marks(series, values)),
        values=tuple(_value(held, course) for held in reversed(series.here)),
        summary=summary_of(series, course),
    )


def _figure(number: float) -> str:
    return f"{number:g}".replace("-", "−")


def _strokes(series: Series, values: ValueAxis) -> Iterator[Stroke]:
    for (one_at, one), (two_at, two) in pairwise(series.line()):
        if one is None or two is None:
            continue
        x1, x2 = series.axis.at(one_at), series.axis.at(two_at)
        y1, y2 = values.at(one), values.at(two)
        if series.kind == "line":
            yield Stroke(x1, y1, x2, y2)
            continue
        yield Stroke(x1, y1, x2, y1)
        if y1 != y2:
            yield Stroke(x2, y1, x2, y2)


def _bands(series: Series, values: ValueAxis) -> Iterator[Patch]:
    for each in series.limits:
        left = series.axis.share(each.from_at)
        width = percent(series.axis.share(each.to_at) - left)
        if each.over is not None:
            yield Patch(percent(left), "0%", width, values.at(each.over))
        if each.under is not None:
            top = values.share(each.under)
            yield Patch(percent(left), percent(top), width, percent(100 - top))


def _marks(series: Series, values: ValueAxis) -> Iterator[TrendMark]:
    for held in series.here:
        x, was = series.axis.at(held.at), held.before_correction
        if was is not None:
            yield TrendMark(x, values.at(was), "was")
        if held.drawn:
            y = "100%" if held.number is None else values.at(held.number)
            yield TrendMark(x, y, held.drawn)


def _value(held: Held, course: Known) -> TrendValue:
    when = when_in(held.at, course.now, course.clock)
    return TrendValue(when, held.point.shown, words_of(held, course))
