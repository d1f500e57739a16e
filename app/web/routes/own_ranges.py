"""Ranges of a patient's own in place of the unit's: what holds, ordering one, ending one."""

from fastapi import APIRouter, Request
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.order_own_range import RangeRefused, may_be_own, order_own_range
from app.actions.permissions import Act, may
from app.pages.own_ranges import OwnSheet, own_ranges_page
from app.record.errors import KeyReused
from app.web.check_form import new_save_key
from app.web.courses import OpenCourse, view_course
from app.web.dependencies import Charter, FormDep, Reader
from app.web.fill_form import SENT_BEFORE
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.own_range_form import new_range, own_sheet
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/own-ranges")
def show(request: Request, visit: Reader, course_id: str, end: str = "") -> Response:
    """What holds in place of the unit's ranges, what held before, and the form."""
    course = view_course(visit, course_id)
    return _page(request, visit, course, OwnSheet(new_save_key(), visit.now), end)


@router.post("/courses/{course_id}/own-ranges")
def order(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Keep the range or its end, or show the form again with what is wrong beside each field."""
    course = course_for(visit, course_id, form)
    sheet, end = own_sheet(form, course.judge.clock, visit.now), form.one("end", 60)
    try:
        new = new_range(sheet, end, course.judge.clock, visit.now, visit.site.words)
        with visit.writing() as writing:
            order_own_range(writing, course_id, new, ends=bool(end), save_key=sheet.save_key)
    except RangeRefused as refused:
        sheet = replace(sheet, bad={fault.field: fault.sentence for fault in refused.faults})
    except KeyReused:
        sheet = replace(sheet, bad={"": SENT_BEFORE}, save_key=new_save_key())
    else:
        return RedirectResponse(f"/courses/{course_id}/own-ranges", status_code=303)
    return _page(request, visit, course, sheet, end, 422)


def _page(
    request: Request, visit: Visit, course: OpenCourse, sheet: OwnSheet, end: str, status: int = 200
) -> Response:
    frame = frame_for(request, "Own ranges", links_for(request, visit))
    may_order = may(visit.person.role, Act.CHART)
    limits = may_be_own(course.judge.policy)
    page = own_ranges_page(
        frame, course.known(visit), limits, sheet, may_order=may_order, ending=end
    )
    return show_page(request, "pages/fill.html", page, status)
