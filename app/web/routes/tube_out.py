"""A tube that came out unplanned: one key opens the page, the next records it."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.record_tube_out import TubeOut, record_tube_out
from app.pages.fill import FillSheet
from app.pages.tube_out import tube_out_page
from app.web.courses import OpenCourse, view_course
from app.web.dependencies import Charter, FormDep
from app.web.fill_form import HOLDS_UP, blank_fill, fill_sheet_of, held_up, require_time
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/tube-out")
def show(request: Request, visit: Charter, course_id: str) -> Response:
    """The button that records it, already in focus."""
    course = view_course(visit, course_id)
    return _page(request, visit, course, blank_fill(visit.now))


@router.post("/courses/{course_id}/tube-out")
def record(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Keep event and airway, or say why there is nothing to keep."""
    course = course_for(visit, course_id, form, covering=False)
    sheet = fill_sheet_of(form, (), course.judge.clock, visit.now)
    try:
        require_time(sheet)
        with visit.writing() as writing:
            record_tube_out(writing, course_id, TubeOut(sheet.observed_at), save_key=sheet.save_key)
    except HOLDS_UP as why:
        return _page(request, visit, course, held_up(sheet, why), 422)
    return RedirectResponse(f"/courses/{course_id}", status_code=303)


def _page(
    request: Request, visit: Visit, course: OpenCourse, sheet: FillSheet, status: int = 200
) -> Response:
    frame = frame_for(request, "Tube out, unplanned", links_for(request, visit))
    page = tube_out_page(frame, course.known(visit), sheet)
    return show_page(request, "pages/fill.html", page, status)
