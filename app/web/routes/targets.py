"""What was ordered for a patient: what holds, its history, ordering anew and ending it."""

from dataclasses import replace

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.order_targets import OrderRefused, end_order, order_targets
from app.actions.permissions import Act, may
from app.charting.typed_sheet import SheetHeldUp, standing_sheet
from app.pages.fill import FillSheet
from app.pages.targets import CODES, targets_page
from app.record.errors import KeyReused
from app.record.stands import every_target
from app.web.check_form import new_save_key
from app.web.courses import OpenCourse, note_view, open_course
from app.web.dependencies import Charter, FormDep, Reader
from app.web.fill_form import SENT_BEFORE, blank_fill, fill_sheet_of
from app.web.frame import frame_for
from app.web.identity import require_identity
from app.web.navigation import links_for
from app.web.orders_form import order_of
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/targets")
def show(request: Request, visit: Reader, course_id: str, end: str = "") -> Response:
    """The order that holds, those before it, and the form."""
    course = open_course(visit, course_id)
    note_view(visit, course_id)
    return _page(request, visit, course, blank_fill(visit.now), end)


@router.post("/courses/{course_id}/targets")
def order(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Keep the order or its end, or show the form again with what holds it up."""
    course = open_course(visit, course_id)
    require_identity(visit, course, form)
    sheet = fill_sheet_of(form, CODES, course.judge.clock, visit.now)
    end = form.one("end", 10)
    if sheet.observed_error:
        return _page(request, visit, course, sheet, end, 422)
    try:
        new = order_of(standing_sheet(sheet.typed, sheet.accepted), sheet.observed_at)
        with visit.writing() as writing:
            write = end_order if end else order_targets
            write(writing, course_id, new, save_key=sheet.save_key)
    except SheetHeldUp as held:
        sheet = replace(sheet, objections=held.objections)
    except OrderRefused as refused:
        sheet = replace(sheet, error=str(refused))
    except KeyReused:
        sheet = replace(sheet, error=SENT_BEFORE, save_key=new_save_key())
    else:
        return RedirectResponse(f"/courses/{course_id}/targets", status_code=303)
    return _page(request, visit, course, sheet, end, 422)


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
