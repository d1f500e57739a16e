"""The values of one key over a course, oldest first: every row that charted it, or answers it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from app.charting.derive import GAS_INDICES, WorkedOut
from app.charting.facts import Assessment, Kind, Reading
from app.charting.fields import FIELDS
from app.pages.bed import Known
from app.pages.number_links import RowLinks
from app.pages.shown import Shown
from app.pages.values import Run, limit_of, of_index, of_reading
from app.physiology.answer import Value, Verdict
from app.physiology.catalogue import CATALOGUE


@dataclass(frozen=True, slots=True)
class Point:
    """One row with its reading of the key, or the key's answer in it; neither where it has none."""

    row: Assessment
    shown: Shown
    reading: Reading | None = None
    worked: WorkedOut | None = None

    @property
    def has_value(self) -> bool:
        """Whether there is a number or a word."""
        return bool(self.shown.text)


def points_of(key: str, course: Known) -> tuple[Point, ...]:
    """Every row that says something of the key, each value seen against the limit."""
    run = Run(limit_of(key, course.policy, adult=course.summary.adult))
    links = RowLinks(course.facts.course_id, course.facts.assessments)
    points = _readings(key, course) if key in FIELDS else _answers(key, course)
    return tuple(
        replace(point, shown=replace(_seen(point, run), href=links.href(key, point.row)))
        for point in points
    )


def _seen(point: Point, run: Run) -> Shown:
    return run(point.shown) if point.row.counts else point.shown


def _readings(key: str, course: Known) -> Iterator[Point]:
    """Struck and unsigned rows too: they stay readable, but are never judged."""
    field = FIELDS[key]
    before: Reading | None = None
    for row in course.facts.assessments:
        reading = row.readings.get(key)
        if reading is None:
            continue
        shown = replace(of_reading(field, reading, before=before), struck=bool(row.struck))
        yield Point(row, shown, reading=reading)
        before = reading if reading.has_value and row.counts else before


def _answers(key: str, course: Known) -> Iterator[Point]:
    for row, answers in course.worked:
        worked = answers[key]
        is_number = isinstance(worked.answer, Value | Verdict)
        if is_number or (row.kind is Kind.GAS) == (key in GAS_INDICES):
            yield Point(row, of_index(CATALOGUE[key], worked), worked=worked)
