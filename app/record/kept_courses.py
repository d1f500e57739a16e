"""Courses as they were last read, brought up to date by what was written since.

Rows are only ever added, and their keys grow in the order of writing. So a course that was read up
to one key is made complete by reading again what a later key touches: whatever wrote it, in this
process or another, it is found. A save therefore costs the same on the thirtieth day of a course
as on the first, and no fact is left out of it.
"""

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace
from sqlmodel import Session

from app.charting.facts import Assessment, CourseFacts
from app.charting.kept import Kept
from app.record.audit import tail
from app.record.chart import assessments, in_order, some_assessments
from app.record.courses import find_course, read_facts
from app.record.ids import last_id
from app.record.touches import Known, Touch, touches
from app.record.writing import END_OF_CHAIN, WriteSession

MOST = 64
"""How many courses are kept; a long one is some megabytes."""

OPEN = "courses in an open write"


class _Course(Struct, frozen=True):
    """A course as it stood when the row with the key `known.until` was the last one written."""

    known: Known
    facts: CourseFacts


class KeptCourses:
    """The courses of one store, the least used forgotten first; safe to share between threads."""

    def __init__(self) -> None:
        self._kept: Kept[_Course] = Kept(MOST)

    def facts(self, session: Session, course_id: str) -> CourseFacts:
        """The course as this session sees it, rows of its own open write included.

        Those are kept only when the write has been committed. Raises NotFound.
        """
        opened: dict[str, _Course] = session.info.setdefault(OPEN, {})
        until = _last_key(session)
        kept = opened.get(course_id) or self._find(course_id, until)
        kept = kept or _read(session, course_id, until)
        found = touches(session, kept.known)
        if any(not touch.assessment_id for touch in found):
            if isinstance(session, WriteSession):  # what of it is this write's own is not told
                return read_facts(session, find_course(session, course_id))
            kept = _read(session, course_id, until, kept.facts.assessments)
        kept = _brought_up(session, kept, found, until)
        if kept.known.until > until:
            opened[course_id] = kept
        else:
            self._kept.keep(course_id, kept)
        return kept.facts

    def committed(self, session: Session) -> None:
        """Keep what was read of rows that this session had written itself, now that they stand."""
        for course_id, kept in session.info.pop(OPEN, {}).items():
            self._kept.keep(course_id, kept)

    def _find(self, course_id: str, until: str) -> _Course | None:
        """What is kept, unless it holds more than a view from before the newest write shows."""
        kept = self._kept.find(course_id)
        return kept if kept is not None and kept.known.until <= until else None


def _last_key(session: Session) -> str:
    """A key behind everything that was committed, as this session sees it."""
    end = session.info.get(END_OF_CHAIN) or tail(session)
    return last_id(end.at, end.seq) if end.at is not None else ""


def _read(
    session: Session, course_id: str, until: str, chart: tuple[Assessment, ...] | None = None
) -> _Course:
    """The whole course; its chart only up to the key, or as it is known."""
    course = find_course(session, course_id)
    if chart is None:
        chart = assessments(session, course_id, until=until)
    known = Known(until, course_id, course.patient_id, course.version_id)
    return _Course(known, read_facts(session, course, chart))


def _brought_up(session: Session, kept: _Course, found: Sequence[Touch], until: str) -> _Course:
    """The course with the rows of its chart that were touched read again."""
    of_chart = [touch for touch in found if touch.assessment_id]
    known = replace(kept.known, until=max([until, kept.known.until, *(t.id for t in of_chart)]))
    if not of_chart:
        return replace(kept, known=known)
    chart = _chart_again(session, kept, of_chart)
    return _Course(known, replace(kept.facts, assessments=chart))


def _chart_again(session: Session, kept: _Course, found: Sequence[Touch]) -> tuple[Assessment, ...]:
    course_id = kept.known.course_id
    if any(touch.is_version for touch in found):
        return assessments(session, course_id)
    ids = {touch.assessment_id for touch in found}
    new = {touch.id for touch in found if touch.is_new}
    alone = not any(touch.says_more for touch in found)
    anew = some_assessments(session, course_id, ids, all_new=alone and ids <= new)
    return in_order((*(row for row in kept.facts.assessments if row.id not in ids), *anew))
