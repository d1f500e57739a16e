"""The machine at a bed, its humidifier and the rescue gear, charted beside the rounds."""

from fastapi import APIRouter, Request
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.chart_assessment import NothingCharted
from app.actions.chart_machine import chart_machine
from app.actions.permissions import Act, may
from app.charting.check import TypedCheck
from app.charting.facts import Kind
from app.pages.fill import FillSheet
from app.pages.machine import CODES, machine_page
from app.web.courses import OpenCourse, view_course
from app.web.dependencies import Charter, FormDep, Reader
from app.web.fill_form import HOLDS_UP, blank_fill, fill_sheet_of, held_up, require_time
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()

NOTHING = "Nothing was filled in, so there is nothing to save."


@router.get("/courses/{course_id}/machine")
def show(request: Request, visit: Reader, course_id: str) -> Response:
    """What is charted of machine and gear, and the form."""
    course = view_course(visit, course_id)
    return _page(request, visit, course, blank_fill(visit.now))


@router.post("/courses/{course_id}/machine")
def chart(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Keep what was looked at, or show the form again with what holds it up."""
    course = course_for(visit, course_id, form)
    sheet = fill_sheet_of(form, CODES, course.judge.clock, visit.now)
    try:
        require_time(sheet)
        with visit.writing() as writing:
            chart_machine(writing, course_id, check_of(sheet), save_key=sheet.save_key)
    except NothingCharted:
        return _page(request, visit, course, replace(sheet, error=NOTHING), 422)
    except HOLDS_UP as why:
        return _page(request, visit, course, held_up(sheet, why), 422)
    return RedirectResponse(f"/courses/{course_id}/machine", status_code=303)


def check_of(sheet: FillSheet, mode_family: str = "") -> TypedCheck:
    """The fields as a row beside the rounds."""
    return TypedCheck(
        kind=Kind.EVENT,
        observed_at=sheet.observed_at,
        mode_family=mode_family,
        typed=dict(sheet.typed),
        accepted=sheet.accepted,
    )


def _page(
    request: Request, visit: Visit, course: OpenCourse, sheet: FillSheet, status: int = 200
) -> Response:
    frame = frame_for(request, "Machine and gear", links_for(request, visit))
    may_chart = may(visit.person.role, Act.CHART)
    page = machine_page(frame, course.known(visit), sheet, may_chart=may_chart)
    return show_page(request, "pages/fill.html", page, status)
