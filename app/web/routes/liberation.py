"""Coming off the ventilator: a planned removal, what was left open, time on a tracheostomy mask."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.end_event import end_event
from app.actions.permissions import Act, may
from app.actions.record_event import EventRefused, NewEvent
from app.actions.record_off_ventilator import begin_off
from app.actions.remove_tube import Removal, remove_tube
from app.actions.tell_of_tube_out import ToldOfTubeOut, tell_of_tube_out
from app.charting.liberation import CHECKLISTS
from app.charting.off_ventilator import OFF
from app.charting.typed_sheet import SheetRead
from app.pages.fill import FillSheet
from app.pages.liberation import OFF_BEGINS, OFF_ENDS, TOLD, codes_of, liberation_page
from app.record.writing import Writing
from app.web.courses import OpenCourse, view_course
from app.web.dependencies import Charter, FormDep, Reader
from app.web.fill_form import HOLDS_UP, blank_fill, fill_sheet_of, held_up, read_sheet_of
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/liberation")
def show(request: Request, visit: Reader, course_id: str, act: str = "") -> Response:
    """What was written of it, and the form of one act."""
    course = view_course(visit, course_id)
    return _page(request, visit, course, act, blank_fill(visit.now))


@router.post("/courses/{course_id}/liberation")
def record(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Keep what was done, or show the form again with what holds it up."""
    course = course_for(visit, course_id, form)
    act = form.one("act", 40)
    sheet = fill_sheet_of(form, codes_of(act), course.judge.clock, visit.now)
    try:
        typed = read_sheet_of(sheet)
        with visit.writing() as writing:
            _record(writing, course_id, act, sheet, typed)
    except HOLDS_UP as why:
        return _page(request, visit, course, act, held_up(sheet, why), 422)
    return RedirectResponse(f"/courses/{course_id}", status_code=303)


def _record(writing: Writing, course_id: str, act: str, sheet: FillSheet, typed: SheetRead) -> None:
    at, key = sheet.observed_at, sheet.save_key
    if act in CHECKLISTS:
        details = {code: _told(code, typed) for code in typed.values}
        removal = Removal(act, at, details, typed.number("cuff_leak_ml"))
        remove_tube(writing, course_id, removal, save_key=key)
    elif act == TOLD:
        told = ToldOfTubeOut(
            at,
            typed.word("breathes_now"),
            typed.word("tube_out_how"),
            not_again=typed.word("tube_in_again") == "no",
        )
        tell_of_tube_out(writing, course_id, told, save_key=key)
    elif act in (OFF_BEGINS, OFF_ENDS):
        event = NewEvent(OFF, at, typed.word("airway_words"))
        write = begin_off if act == OFF_BEGINS else end_event
        write(writing, course_id, event, save_key=key)
    else:
        raise EventRefused("Say what was done: pick one of the list.")


def _told(code: str, typed: SheetRead) -> str:
    number = typed.number(code)
    return f"{number:f}" if number is not None else typed.word(code)


def _page(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    act: str,
    sheet: FillSheet,
    status: int = 200,
) -> Response:
    frame = frame_for(request, "Off the ventilator", links_for(request, visit))
    may_record = may(visit.person.role, Act.CHART)
    page = liberation_page(frame, course.known(visit), act, sheet, may_record=may_record)
    return show_page(request, "pages/fill.html", page, status)
