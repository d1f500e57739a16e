"""What the library draws: moments in seconds and numbers, with the words that are read of them."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from app.pages.known import Known
from app.pages.trend_axes import TimeAxis, round_moments
from app.pages.trend_series import Held, Series, said_of, summary_of
from app.pages.trends_page import (
    Drawing,
    DrawnEvent,
    DrawnLimit,
    DrawnPoint,
    DrawnSeries,
    DrawnTick,
)


def drawing_of(
    found: Sequence[Series], events: Sequence[DrawnEvent], axis: TimeAxis, course: Known
) -> Drawing:
    """Every series of the page on one axis of time."""
    return Drawing(
        from_at=seconds(axis.from_at),
        to_at=seconds(axis.to_at),
        ticks=tuple(
            DrawnTick(seconds(moment), words) for moment, words in round_moments(axis, course.clock)
        ),
        events=tuple(events),
        series=tuple(_series(each, course) for each in found),
    )


def seconds(moment: datetime) -> float:
    """The moment as the library counts it."""
    return moment.timestamp()


def _series(series: Series, course: Known) -> DrawnSeries:
    line = series.line()
    return DrawnSeries(
        key=series.key,
        label=series.label,
        kind=series.kind,
        summary=summary_of(series, course),
        at=tuple(seconds(at) for at, _ in line),
        values=tuple(number for _, number in line),
        points=tuple(_points(series, course)),
        limits=tuple(
            DrawnLimit(seconds(each.from_at), seconds(each.to_at), each.over, each.under)
            for each in series.limits
        ),
    )


def _points(series: Series, course: Known) -> Iterator[DrawnPoint]:
    """Oldest first; one that is neither drawn nor read is left out."""
    if series.carried is not None:
        at = seconds(series.axis.from_at)
        said = said_of(series.carried, course)
        yield DrawnPoint(at, series.carried.number, None, "held", said)
    for held in series.here:
        if held.drawn:
            yield _point(held, course)


def _point(held: Held, course: Known) -> DrawnPoint:
    was = held.before_correction
    return DrawnPoint(seconds(held.at), held.number, was, held.drawn, said_of(held, course))
