"""A bed's address, and the page of the patient to whom it leads."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.permissions import Act, allowed_names, may
from app.pages.bed import bed_page
from app.pages.frame import NavLink
from app.pages.plain_pages import TroublePage
from app.record.beds import find_bed, occupants
from app.web.courses import note_view, open_course
from app.web.dependencies import Reader
from app.web.frame import frame_for
from app.web.moments import moment_in_address
from app.web.navigation import links_for
from app.web.show import show
from app.web.told import telling

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
        ways=(NavLink("Back to the board", "/"),),
    )
    return show(request, "pages/trouble.html", page)


@router.get("/courses/{course_id}")
def bed(request: Request, visit: Reader, course_id: str, before: str = "") -> Response:
    """One patient: now, what stands out, the last day as a grid."""
    course = open_course(visit, course_id)
    note_view(visit, course_id)
    page = bed_page(
        telling(frame_for(request, "Bed", links_for(request, visit)), visit),
        course.known(visit),
        may_chart=may(visit.person.role, Act.DRAFT),
        may_correct=may(visit.person.role, Act.CORRECT),
        allowed=allowed_names(visit.person.role),
        before=moment_in_address(before),
    )
    return show(request, "pages/bed.html", page)
