"""Open a patient's course for a route: find it, check that it is this unit's, note who looks."""

from datetime import datetime

import structlog
from msgspec import Struct
from msgspec.structs import replace

from app.actions.record_view import record_view
from app.charting.facts import CourseFacts
from app.pages.as_of import as_of_frame
from app.pages.banner import banner_of
from app.pages.frame import Banner, Frame
from app.pages.known import Known, known
from app.record.courses import course_facts, find_course
from app.record.errors import NotFound, NotWritable
from app.record.ids import last_by
from app.record.judging import Judging, judging
from app.record.last_looks import note_look
from app.record.opening import Opening, opening
from app.web.visit import Visit

log = structlog.get_logger("leeboard.views")


class OpenCourse(Struct, frozen=True):
    """A course with what judges it at this visit's moment."""

    facts: CourseFacts
    judge: Judging
    opening: Opening
    """How far the record had come when this was read."""
    as_of: datetime | None = None
    """The moment as of which it was asked for; None for the present."""

    def known(self, visit: Visit) -> Known:
        """Everything worked out, for a page."""
        judge, words = self.judge, visit.site.words
        now = self.as_of or visit.now
        return known(self.facts, judge.policy, judge.clock, now, words, judge.watching)

    def banner(self, visit: Visit) -> Banner:
        """Whose page it is, for one that needs nothing worked out."""
        judge, words = self.judge, visit.site.words
        return banner_of(self.facts, judge.policy, judge.clock, self.as_of or visit.now, words)

    def frame(self, frame: Frame) -> Frame:
        """The frame, which says so where the page is not of the present."""
        present = f"/courses/{self.facts.course_id}"
        return as_of_frame(frame, self.as_of, self.judge.clock, present)


def course_here(visit: Visit, course_id: str) -> None:
    """Raises NotFound unless the course is one of this unit's; a foreign id tells nothing."""
    with visit.reading() as session:
        if find_course(session, course_id).unit_id != visit.unit.id:
            raise NotFound("course", course_id)


def open_course(visit: Visit, course_id: str, as_of: datetime | None = None) -> OpenCourse:
    """Read a course of this unit, as it was known at a moment where one is given.

    A foreign id answers like an unknown one, and a course that nobody had written down by then
    like one that is not there: NotFound.
    """
    if as_of is not None:
        return _as_it_was(visit, course_id, as_of)
    with visit.reading() as session:
        if find_course(session, course_id).unit_id != visit.unit.id:
            raise NotFound("course", course_id)
        facts = course_facts(session, course_id)
        judge = judging(session, visit.unit.id, visit.now).of(facts)
        return OpenCourse(facts, judge, opening(session))


def _as_it_was(visit: Visit, course_id: str, as_of: datetime) -> OpenCourse:
    with visit.reading() as session:
        until = last_by(as_of)
        if find_course(session, course_id, until).unit_id != visit.unit.id:
            raise NotFound("course", course_id)
        judge = judging(session, visit.unit.id, as_of)
        # What is kept is of the present: folding back and forth would only throw it away.
        judge = replace(judge, watching=replace(judge.watching, kept=None))
        facts = course_facts(session, course_id, until=until)
        return OpenCourse(facts, judge.of(facts), opening(session), as_of)


def view_course(visit: Visit, course_id: str, as_of: datetime | None = None) -> OpenCourse:
    """Read a course for somebody who is shown it, and note that they look. Raises NotFound."""
    course = open_course(visit, course_id, as_of)
    note_view(visit, course_id)
    return course


def note_view(visit: Visit, course_id: str, *, printed: bool = False, looked: bool = False) -> None:
    """Put the look into the audit; where nothing can be written, reading goes on and says so.

    `looked` for a page that shows what changed: the next one is held against this look.
    """
    try:
        with visit.writing() as writing:
            record_view(writing, course_id, printed=printed)
            if looked:
                note_look(writing.session, visit.person.id, course_id, visit.now)
    except NotWritable as error:
        visit.site.health.refused(error.why)
        log.warning("view_not_kept", why=error.why)
