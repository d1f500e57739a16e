"""Who a patient is: what stands, and writing it anew."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.permissions import Act, may
from app.actions.write_details import Details, write_details
from app.charting.typed_sheet import SheetRead
from app.pages.fill import FillSheet
from app.pages.who import CODES, stands, who_page
from app.web.courses import OpenCourse, view_course
from app.web.dependencies import FormDep, Placer, Reader
from app.web.fill_form import HOLDS_UP, blank_fill, fill_sheet_of, held_up, read_sheet_of
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/who")
def show(request: Request, visit: Reader, course_id: str) -> Response:
    """Who the patient is, as it stands."""
    course = view_course(visit, course_id)
    return _page(request, visit, course, blank_fill(visit.now, stands(course.facts.identity)))


@router.post("/courses/{course_id}/who")
def write(request: Request, visit: Placer, form: FormDep, course_id: str) -> Response:
    """Keep the details, or show the form again with what holds it up."""
    course = course_for(visit, course_id, form)
    sheet = fill_sheet_of(form, CODES, course.judge.clock, visit.now)
    try:
        details = _details(read_sheet_of(sheet))
        with visit.writing() as writing:
            write_details(writing, course_id, details, save_key=sheet.save_key)
    except HOLDS_UP as why:
        return _page(request, visit, course, held_up(sheet, why), 422)
    return RedirectResponse(f"/courses/{course_id}", status_code=303)


def _details(typed: SheetRead) -> Details:
    age = typed.number("age_y")
    return Details(
        name=typed.word("name"),
        record_number=typed.word("mrn"),
        birth_date=typed.day("birth_date"),
        age_y=int(age) if age is not None else None,
        reason_for_support=typed.word("reason_for_support"),
        code_limits=typed.word("code_limits"),
        isolation=typed.word("isolation"),
        allergies=typed.word("allergies"),
    )


def _page(
    request: Request, visit: Visit, course: OpenCourse, sheet: FillSheet, status: int = 200
) -> Response:
    frame = frame_for(request, "Who this is", links_for(request, visit))
    may_write = may(visit.person.role, Act.PLACE)
    page = who_page(frame, course.known(visit), sheet, may_write=may_write)
    return show_page(request, "pages/fill.html", page, status)
