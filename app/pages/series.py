"""The values of one key over a course, oldest first: every row that charted it, or answers it."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace

from app.charting.derive import GAS_INDICES, WorkedOut
from app.charting.facts import Assessment, Kind, Reading
from app.charting.fields import FIELDS
from app.pages.gas_words import of_its_sample
from app.pages.known import Known
from app.pages.number_links import RowLinks, compact
from app.pages.shown import Drawn, Shown
from app.pages.values import Run, absent, of_index, of_reading, tagged
from app.physiology.answer import Value, Verdict
from app.physiology.catalogue import CATALOGUE
from app.record.errors import NotFound
from app.rules.attempts import not_held


class Point(Struct, frozen=True):
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
    seen = _Seen(course)
    links = RowLinks(course.facts.course_id, course.facts.assessments)
    points = _readings(key, course) if key in FIELDS else _answers(key, course)
    return tuple(
        replace(point, shown=replace(seen(point), href=links.href(key, point.row)))
        for point in points
    )


class _Seen:
    """Sees each value against the limit of its moment, unless it says nothing of the limit."""

    def __init__(self, course: Known) -> None:
        self._course, self._run = course, Run()
        self._answers = {row.id: answers for row, answers in course.worked}

    def __call__(self, point: Point) -> Shown:
        """The next value of the series."""
        shown, row = point.shown, point.row
        if not row.counts:
            return shown
        answers = self._answers.get(row.id)
        why = not_held(shown.key, row, answers) if answers and point.has_value else None
        if why is not None:
            return tagged(shown, why)
        judged = self._run(shown, self._course.limit_at(shown.key, row.observed_at))
        return of_its_sample(judged, row)


def _readings(key: str, course: Known) -> Iterator[Point]:
    """Struck and unsigned rows too: they stay readable, but are never judged."""
    field = course.words.fields[key]
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


def find_point(
    key: str, points: Sequence[Point], course: Known, at: datetime | None, row_id: str = ""
) -> Point | None:
    """The point that an address means: the newest with a value where it names no moment.

    None where nothing of the key was ever charted. Raises NotFound for a moment without a row.
    """
    if at is None:
        return _best([point for point in points if point.row.counts])
    rows = [
        row
        for row in course.facts.assessments
        if compact(row.observed_at) == compact(at) and row_id in ("", row.id)
    ]
    if not rows:
        raise NotFound("number", key)
    named = {row.id for row in rows}
    return _best([point for point in points if point.row.id in named]) or _empty(key, rows[-1])


def _best(points: list[Point]) -> Point | None:
    """A value before none, a row that counts before one that does not, the newest of equals."""
    newest_first = reversed(points)
    return max(newest_first, key=lambda point: (point.has_value, point.row.counts), default=None)


def _empty(key: str, row: Assessment) -> Point:
    label = FIELDS[key].name if key in FIELDS else CATALOGUE[key].short_label
    return Point(row, absent(label, Drawn.NOT_MEASURED, "not charted", key))
