"""Open a patient's course for a route: find it, check that it is this unit's, note who looks."""

from dataclasses import dataclass

import structlog

from app.actions.record_view import record_view
from app.charting.facts import CourseFacts
from app.pages.bed import Known, known
from app.record.courses import course_facts, find_course
from app.record.errors import NotFound, NotWritable
from app.record.judging import Judging, judging
from app.record.opening import Opening, opening
from app.web.visit import Visit

log = structlog.get_logger("leeboard.views")


@dataclass(frozen=True, slots=True)
class OpenCourse:
    """A course with what judges it at this visit's moment."""

    facts: CourseFacts
    judge: Judging
    opening: Opening
    """How far the record had come when this was read."""

    def known(self, visit: Visit) -> Known:
        """Everything worked out, for a page."""
        judge, words = self.judge, visit.site.words
        return known(self.facts, judge.policy, judge.clock, visit.now, words, judge.watching)


def course_here(visit: Visit, course_id: str) -> None:
    """Raises NotFound unless the course is one of this unit's; a foreign id tells nothing."""
    with visit.reading() as session:
        if find_course(session, course_id).unit_id != visit.unit.id:
            raise NotFound("course", course_id)


def open_course(visit: Visit, course_id: str) -> OpenCourse:
    """Read a course of this unit. A foreign id answers like an unknown one: NotFound."""
    with visit.reading() as session:
        if find_course(session, course_id).unit_id != visit.unit.id:
            raise NotFound("course", course_id)
        judge = judging(session, visit.unit.id, visit.now)
        return OpenCourse(course_facts(session, course_id), judge, opening(session))


def note_view(visit: Visit, course_id: str, *, printed: bool = False) -> None:
    """Put the look into the audit; where nothing can be written, reading goes on and says so."""
    try:
        with visit.writing() as writing:
            record_view(writing, course_id, printed=printed)
    except NotWritable as error:
        visit.site.health.refused(error.why)
        log.warning("view_not_kept", why=error.why)
