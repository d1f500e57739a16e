"""Drafts for a route: which there are, one of them, and its page for whoever looks."""

from starlette.requests import Request
from starlette.responses import Response

from app.actions.permissions import Act, may
from app.charting.drafted import drafts_of, read_draft
from app.charting.facts import Assessment, CourseFacts
from app.pages.co_sign import Signer, draft_page
from app.pages.unsigned import ListedDraft
from app.record.beds import unit_beds
from app.record.courses import find_course, identity
from app.record.unsigned import unsigned_drafts
from app.web.courses import OpenCourse
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show
from app.web.visit import Visit


def listed_drafts(visit: Visit, author_id: str | None) -> list[ListedDraft]:
    """The unit's drafts with bed and name; of one author if asked."""
    with visit.reading() as session:
        drafts = unsigned_drafts(session, visit.unit.id, author_id)
        beds = {bed.id: bed.code for bed in unit_beds(session, visit.unit.id)}
        courses = {key: find_course(session, key) for key in {d.course_id for d in drafts}}
        names = {key: identity(session, held.patient_id).name for key, held in courses.items()}
    return [
        ListedDraft(
            draft,
            bed=beds.get(courses[draft.course_id].bed_id or "", ""),
            name=names[draft.course_id],
        )
        for draft in drafts
    ]


def find_draft(facts: CourseFacts, draft_id: str) -> Assessment | None:
    """A draft of this course; None for one that is signed or struck, and for anything else."""
    return next((row for row in drafts_of(facts) if row.id == draft_id), None)


def signer_of(
    visit: Visit,
    *,
    accepted: frozenset[str] = frozenset(),
    strike_typed: str = "",
    strike_error: str = "",
) -> Signer:
    """What this person may do with a draft, and what they sent."""
    may_sign = may(visit.person.role, Act.CO_SIGN)
    return Signer(visit.person.id, may_sign, accepted, strike_typed, strike_error)


def draft_answer(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    row: Assessment,
    signer: Signer,
    status: int = 200,
) -> Response:
    """The draft's page, its values held against the chart as it stands now."""
    site = course.judge.site
    read = read_draft(course.facts, row, signer.accepted, now=visit.now, site=site)
    frame = frame_for(request, "Unsigned draft", links_for(request, visit))
    page = draft_page(frame, course.known(visit), row, read, signer)
    return show(request, "pages/draft.html", page, status)
