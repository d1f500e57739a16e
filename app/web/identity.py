"""Whose chart it is: asked once for each patient and session before anything is saved.

A route that changes something of a patient reads it by `course_for`, or calls `require_identity`
with what it has read, and needs nothing else: a form that comes without the answer is kept on a
page that asks for it (`identity_page`). The check form asks in its own first fields instead. In a
bed that is a colleague's this shift, why somebody acts there is asked along (`covering`).
"""

import structlog

from app.actions.confirm_identity import confirm_identity
from app.charting.record_number import ends_in, to_be_asked
from app.pages.identity import IdentityQuestion, identity_question, mistaken_words
from app.record.errors import NotWritable
from app.record.identity_checks import IdentityCheck, find_identity_check
from app.web.courses import OpenCourse, open_course
from app.web.covering import OthersBed, keep_reason, others_bed, why_not
from app.web.errors import OtherPatient, WebError
from app.web.forms import Form
from app.web.visit import Visit

COURSE = "course"
"""Name of the hidden field in which a form says for which course it was opened."""

IDENTITY = "identity"

log = structlog.get_logger("leeboard.identity")


class NeedsIdentity(WebError):  # noqa: N818 - what happened to a request, as its page says it
    """Nothing was saved: somebody has still to say whose chart it is, or why they act in a
    colleague's bed, or has not said it rightly."""

    def __init__(
        self, course: OpenCourse, words: str, bed: OthersBed | None = None, why_not: str = ""
    ) -> None:
        super().__init__(words or why_not)
        self.course = course
        self.words = words
        self.bed = bed
        self.why_not = why_not


def course_for(visit: Visit, course_id: str, form: Form, *, covering: bool = True) -> OpenCourse:
    """Read the course that a form changes something of, once `require_identity` lets it through.

    Raises NotFound, and what that raises.
    """
    course = open_course(visit, course_id)
    require_identity(visit, course, form, covering=covering)
    return course


def require_identity(
    visit: Visit, course: OpenCourse, form: Form, *, covering: bool = True
) -> None:
    """Let a form through that was opened for this patient by somebody who has said who that is,
    and why they act in a bed that is a colleague's this shift.

    Without `covering` the bed is not asked about: handing over is no covering, and nothing stands
    before what cannot wait. Raises OtherPatient for a form of another course than its address, and
    NeedsIdentity for an answer that is missing or wrong; a right one holds for this patient until
    the session ends, a reason until the shift does.
    """
    if form.one(COURSE) != course.facts.course_id:
        raise OtherPatient
    words = _mistaken(visit, course, form.one(IDENTITY))
    bed = others_bed(visit, course) if covering else None
    missing = why_not(form) if bed is not None else ""
    if words or missing:
        raise NeedsIdentity(course, words, bed, missing)
    if bed is not None:
        keep_reason(visit, course, bed, form)


def mistaken_other(visit: Visit, other: OpenCourse, typed: str) -> str:
    """Why nothing is saved of an act that concerns a second patient, until somebody has said whose
    chart that is, too; empty once they have."""
    words = _mistaken(visit, other, typed)
    return f"{words} This is about the other patient." if words else ""


def _mistaken(visit: Visit, course: OpenCourse, typed: str) -> str:
    """Why the chart's owner is still to be said; empty once it was, or where nothing is asked."""
    if not is_asked(visit, course):
        return ""
    said = _said(visit, course, typed) if typed else IdentityCheck()
    return "" if said.confirmed_at is not None else mistaken_words(said.wrong)


def is_asked(visit: Visit, course: OpenCourse) -> bool:
    """Whether the next save on this patient has to say whose chart it is.

    Not where the site asks nothing, and not where no record number is known to compare with.
    """
    if not to_be_asked(course.facts.identity.record_number, _digits(visit)):
        return False
    with visit.reading() as session:
        said = find_identity_check(session, visit.token, course.facts.course_id)
    return said.confirmed_at is None


def question_for(
    visit: Visit, course: OpenCourse, form: Form | None = None, error: str = ""
) -> IdentityQuestion | None:
    """The question as a form shows it, with what was typed; None once it was answered."""
    if not is_asked(visit, course):
        return None
    typed = form.one(IDENTITY) if form is not None else ""
    number = course.facts.identity.record_number
    return identity_question(number, _digits(visit), typed=typed, error=error)


def _said(visit: Visit, course: OpenCourse, typed: str) -> IdentityCheck:
    """The answer, kept. Where nothing can be written it is held against the number all the same:
    the save that follows says that it could not be kept."""
    course_id, digits = course.facts.course_id, _digits(visit)
    try:
        with visit.writing() as writing:
            return confirm_identity(writing, visit.token, course_id, typed, digits)
    except NotWritable as error:
        visit.site.health.refused(error.why)
        log.warning("identity_not_kept", why=error.why)
    is_right = ends_in(course.facts.identity.record_number, typed, digits)
    return IdentityCheck(wrong=1, confirmed_at=visit.now if is_right else None)


def _digits(visit: Visit) -> int:
    return visit.site.settings.identity_digits
