"""From one stay's rows to its courses of support.

Decision 6: a gap off invasive support shorter than one calendar day does not start a new course.
Day 1 is the day invasive support started, so what came before by mask or high flow is a course of
its own.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime
from itertools import pairwise

from msgspec import Struct

from app.exchange.clif_devices import Device, DeviceRow
from app.rules.unit_clock import UnitClock


class Course(Struct, frozen=True):
    """One course of a stay; `number` is 1 for the first. Rows are oldest first and never none.

    `ended_at` is when something else was charted after the last row on support, or that row's time.
    """

    stay: str
    number: int
    rows: tuple[DeviceRow, ...]
    ended_at: datetime

    @property
    def key(self) -> str:
        """How an export names it: the stay's id, and ":2" behind it for its second course."""
        return self.stay if self.number == 1 else f"{self.stay}:{self.number}"

    @property
    def started_at(self) -> datetime:
        """When its support started."""
        return self.rows[0].at

    @property
    def invasive(self) -> bool:
        """Whether there was ever a tube."""
        return any(row.device is Device.INVASIVE for row in self.rows)


def courses_of(stay: str, rows: Sequence[DeviceRow], clock: UnitClock) -> tuple[Course, ...]:
    """The courses of a stay, those that begin with a tube first, each kind oldest first.

    A course ends where a whole calendar day of the unit passes without a row on support. Oxygen by
    plain mask between two rows on support belongs to the course (a trial off the machine); a
    cannula does not. None for a stay without support.
    """
    spans = [span for part in _from_each_tube(rows, clock) for span in _unbroken(part, clock)]
    invasive_first = sorted(spans, key=lambda span: span[0].device is not Device.INVASIVE)
    return tuple(
        Course(stay, number, tuple(_within(rows, span)), _ended_at(rows, span[-1].at))
        for number, span in enumerate(invasive_first, start=1)
    )


Span = list[DeviceRow]


def _from_each_tube(rows: Iterable[DeviceRow], clock: UnitClock) -> Iterator[Span]:
    """Rows on support, cut where a new time with a tube starts."""
    part: Span = []
    last_tube: DeviceRow | None = None
    for row in rows:
        if not row.device.supports:
            continue
        if row.device is Device.INVASIVE:
            if part and (last_tube is None or whole_day_between(last_tube.at, row.at, clock)):
                yield part
                part = []
            last_tube = row
        part.append(row)
    if part:
        yield part


def _unbroken(part: Span, clock: UnitClock) -> Iterator[Span]:
    """Cut where a whole day passed off every kind of support."""
    span = part[:1]
    for before, row in pairwise(part):
        if whole_day_between(before.at, row.at, clock):
            yield span
            span = []
        span.append(row)
    yield span


def whole_day_between(earlier: datetime, later: datetime, clock: UnitClock) -> bool:
    """Whether at least one calendar day of the unit lies wholly between the two moments."""
    first: date = clock.day(earlier)
    return (clock.day(later) - first).days >= 2


def _within(rows: Iterable[DeviceRow], span: Span) -> Iterator[DeviceRow]:
    start, end = span[0].at, span[-1].at
    return (row for row in rows if start <= row.at <= end and row.device is not Device.OFF)


def _ended_at(rows: Iterable[DeviceRow], last: datetime) -> datetime:
    return next((row.at for row in rows if row.at > last), last)
