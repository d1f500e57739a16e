"""What was ordered for a patient: what holds, its history, ordering anew and ending it."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.order_targets import end_order, order_targets
from app.actions.permissions import Act, may
from app.pages.fill import FillSheet
from app.pages.targets import CODES, targets_page
from app.record.stands import every_target
from app.web.courses import OpenCourse, view_course
from app.web.dependencies import Charter, FormDep, Reader
from app.web.fill_form import HOLDS_UP, blank_fill, fill_sheet_of, held_up, read_sheet_of
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.orders_form import order_of
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/targets")
def show(request: Request, visit: Reader, course_id: str, end: str = "") -> Response:
    """The order that holds, those before it, and the form."""
    course = view_course(visit, course_id)
    return _page(request, visit, course, blank_fill(visit.now), end)


@router.post("/courses/{course_id}/targets")
def order(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Keep the order or its end, or show the form again with what holds it up."""
    course = course_for(visit, course_id, form)
    sheet = fill_sheet_of(form, CODES, course.judge.clock, visit.now)
    end = form.one("end", 10)
    try:
        new = order_of(read_sheet_of(sheet), sheet.observed_at)
        with visit.writing() as writing:
            write = end_order if end else order_targets
            write(writing, course_id, new, save_key=sheet.save_key)
    except HOLDS_UP as why:
        return _page(request, visit, course, held_up(sheet, why), end, 422)
    return RedirectResponse(f"/courses/{course_id}/targets", status_code=303)


def _page(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    sheet: FillSheet,
    end: str,
    status: int = 200,
) -> Response:
    frame = frame_for(request, "Ordered targets", links_for(request, visit))
    with visit.reading() as session:
        orders = every_target(session, course.facts.course_id)
    may_order = may(visit.person.role, Act.CHART)
    page = targets_page(
        frame, course.known(visit), orders, sheet, ending=end == "yes", may_order=may_order
    )
    return show_page(request, "pages/fill.html", page, status)
