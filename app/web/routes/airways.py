"""The airway of a patient: what is in place, what was done, and saying what is done now."""

from fastapi import APIRouter, Request
from msgspec.structs import asdict
from starlette.responses import RedirectResponse, Response

from app.actions.permissions import Act, may
from app.actions.record_airway import AirwayRefused, NewAirway, record_airway
from app.charting.airways import AIRWAY_ACTS
from app.charting.typed_sheet import SheetRead
from app.pages.airway import airway_page
from app.pages.fill import FillSheet
from app.web.airway_form import airway_typed
from app.web.courses import OpenCourse, view_course
from app.web.dependencies import Charter, FormDep, Reader
from app.web.fill_form import HOLDS_UP, blank_fill, fill_sheet_of, held_up, read_sheet_of
from app.web.forms import Form
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/airway")
def show(request: Request, visit: Reader, course_id: str, act: str = "") -> Response:
    """The airway with its history and the form of one act."""
    course = view_course(visit, course_id)
    return _page(request, visit, course, act, blank_fill(visit.now))


@router.post("/courses/{course_id}/airway")
def record(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Keep what was done, or show the form again with what holds it up."""
    course = course_for(visit, course_id, form)
    act = form.one("act", 40)
    sheet = _sheet(form, act, course, visit)
    try:
        airway = _airway(act, sheet, read_sheet_of(sheet))
        with visit.writing() as writing:
            record_airway(writing, course_id, airway, save_key=sheet.save_key)
    except HOLDS_UP as why:
        return _page(request, visit, course, act, held_up(sheet, why), 422)
    return RedirectResponse(f"/courses/{course_id}/airway", status_code=303)


def _sheet(form: Form, act: str, course: OpenCourse, visit: Visit) -> FillSheet:
    codes = AIRWAY_ACTS[act].asks if act in AIRWAY_ACTS else ()
    return fill_sheet_of(form, codes, course.judge.clock, visit.now)


def _airway(act: str, sheet: FillSheet, typed: SheetRead) -> NewAirway:
    """What was done. Raises AirwayRefused for an act that has a page of its own, as a removal."""
    if act not in AIRWAY_ACTS:
        raise AirwayRefused("Say what was done: pick one of the list.")
    tube = asdict(airway_typed(typed))
    return NewAirway(act=act, observed_at=sheet.observed_at, why=typed.word("why"), **tube)


def _page(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    act: str,
    sheet: FillSheet,
    status: int = 200,
) -> Response:
    frame = frame_for(request, "Airway", links_for(request, visit))
    may_record = may(visit.person.role, Act.CHART)
    page = airway_page(frame, course.known(visit), act, sheet, may_record=may_record)
    return show_page(request, "pages/fill.html", page, status)
