"""The quiet view of a patient whose support is withdrawn: beginning and ending it."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.permissions import Act, may
from app.actions.quiet_view import Quiet, begin_quiet, end_quiet
from app.pages.fill import FillSheet
from app.pages.quiet import CODES, END, quiet_page
from app.web.courses import OpenCourse, view_course
from app.web.dependencies import FormDep, Placer, Reader
from app.web.fill_form import HOLDS_UP, blank_fill, fill_sheet_of, held_up, require_time
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/quiet")
def show(request: Request, visit: Reader, course_id: str) -> Response:
    """Whether the course is muted, and the form."""
    course = view_course(visit, course_id)
    return _page(request, visit, course, blank_fill(visit.now))


@router.post("/courses/{course_id}/quiet")
def write(request: Request, visit: Placer, form: FormDep, course_id: str) -> Response:
    """Begin or end it, or show the form again with what is wrong."""
    course = course_for(visit, course_id, form)
    sheet = fill_sheet_of(form, CODES, course.judge.clock, visit.now)
    act = end_quiet if form.one("act", 10) == END else begin_quiet
    typed = sheet.typed
    quiet = Quiet(sheet.observed_at, typed.get("ordered_by", ""), typed.get("words", ""))
    try:
        require_time(sheet)
        with visit.writing() as writing:
            act(writing, course_id, quiet, save_key=sheet.save_key)
    except HOLDS_UP as why:
        return _page(request, visit, course, held_up(sheet, why), 422)
    return RedirectResponse(f"/courses/{course_id}", status_code=303)


def _page(
    request: Request, visit: Visit, course: OpenCourse, sheet: FillSheet, status: int = 200
) -> Response:
    frame = frame_for(request, "Quiet view", links_for(request, visit))
    may_place = may(visit.person.role, Act.PLACE)
    page = quiet_page(frame, course.known(visit), sheet, may_place=may_place)
    return show_page(request, "pages/fill.html", page, status)
