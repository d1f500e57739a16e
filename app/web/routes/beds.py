"""A bed's address, and the page of the patient to whom it leads."""

from fastapi import APIRouter, Request
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.permissions import Act, allowed_names, may
from app.pages.as_of import staying_at
from app.pages.bed import bed_page
from app.pages.frame import NavLink
from app.pages.plain_pages import TroublePage
from app.pages.row_trends import row_trends
from app.pages.saved_words import saved_words
from app.record.beds import find_bed, occupants
from app.web.as_of import as_of_in
from app.web.changed import what_changed
from app.web.courses import note_view, open_course
from app.web.covering import who_covers
from app.web.dependencies import Reader
from app.web.frame import frame_for
from app.web.moments import moment_in_address
from app.web.navigation import links_for
from app.web.outages import with_outages
from app.web.show import show
from app.web.told import telling
from app.web.visit import Visit

router = APIRouter()


@router.get("/beds/{bed}")
def lead(request: Request, visit: Reader, bed: str) -> Response:
    """Lead to whoever is in the bed now; an empty bed says so. A bed is never an identifier."""
    with visit.reading() as session:
        found = find_bed(session, visit.unit.id, bed)
        course_id = occupants(session, visit.unit.id).get(found.id)
    if course_id is not None:
        return RedirectResponse(f"/courses/{course_id}", status_code=303)
    page = TroublePage(
        frame=frame_for(request, f"Bed {found.code}", links_for(request, visit)),
        heading=f"{found.code} is empty",
        words=found.note or "Nobody is in this bed now.",
        ways=(*_intake(visit, found.code), NavLink("Back to the board", "/")),
    )
    return show(request, "pages/trouble.html", page)


def _intake(visit: Visit, bed: str) -> tuple[NavLink, ...]:
    """The way to take somebody in, for whoever may."""
    if not may(visit.person.role, Act.PLACE):
        return ()
    return (NavLink("Take a patient in", f"/beds/{bed}/intake"),)


@router.get("/courses/{course_id}")
def bed(
    request: Request,
    visit: Reader,
    course_id: str,
    before: str = "",
    since: str = "",
    as_of: str = "",
    saved: str = "",
) -> Response:
    """One patient: what changed, now, what stands out, the last day as a grid."""
    course = open_course(visit, course_id, as_of_in(as_of, visit.now))
    said = saved_words(course.facts, saved, visit.now, visit.clock)
    frame = course.frame(frame_for(request, "Bed", links_for(request, visit), said=said))
    frame = with_outages(frame, visit, course.as_of)
    known, present = course.known(visit), course.as_of is None
    page = bed_page(
        telling(frame, visit) if present else frame,
        known,
        may_chart=present and may(visit.person.role, Act.DRAFT),
        may_correct=present and may(visit.person.role, Act.CORRECT),
        allowed=allowed_names(visit.person.role) if present else (),
        before=moment_in_address(before),
    )
    if present:
        page = replace(page, going=(*page.going, *who_covers(visit, course)))
    else:
        page = replace(page, not_yet=())
    if not before:
        page = replace(page, row_trends=row_trends(known, course.judge.watching.policies))
    page = replace(page, changed=what_changed(visit, known, since, present=present))
    note_view(visit, course_id, looked=present)
    return show(request, "pages/bed.html", staying_at(page, course.as_of))
