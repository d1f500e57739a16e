"""Events of a patient: the form, and charting that something happened or ended."""

from fastapi import APIRouter, Request
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.end_event import end_event
from app.actions.record_event import EventRefused, NewEvent, record_event
from app.actions.record_tube_out import TubeOut, record_tube_out
from app.actions.refused import ActRefused
from app.charting.events import EVENT_KINDS
from app.charting.liberation import UNPLANNED
from app.pages.event_page import ENDS, EventSheet, event_page
from app.record.errors import KeyReused
from app.record.writing import Writing
from app.web.check_form import LONGEST_KEY, new_save_key, observed_in
from app.web.courses import OpenCourse, view_course
from app.web.dependencies import Charter, FormDep
from app.web.forms import Form
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/events")
def show(request: Request, visit: Charter, course_id: str) -> Response:
    """An empty form for now."""
    course = view_course(visit, course_id)
    return _form(request, visit, course, EventSheet(new_save_key(), visit.now))


@router.post("/courses/{course_id}/events")
def save(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Chart the event, or show the form again with what is wrong."""
    course = course_for(visit, course_id, form)
    sheet = _sheet_of(form, course, visit)
    if sheet.observed_error:
        return _form(request, visit, course, sheet, status=422)
    try:
        with visit.writing() as writing:
            _record(writing, course_id, sheet)
    except ActRefused as refused:
        return _form(request, visit, course, replace(sheet, error=str(refused)), status=422)
    except KeyReused:
        words = "This form was saved before with other content: look at the bed page."
        again = replace(sheet, error=words, save_key=new_save_key())
        return _form(request, visit, course, again, status=422)
    return RedirectResponse(f"/courses/{course_id}#events-head", status_code=303)


def _record(writing: Writing, course_id: str, sheet: EventSheet) -> None:
    kind = EVENT_KINDS.get(sheet.kind.removeprefix(ENDS))
    if kind is not None and kind.own_page:
        raise EventRefused("This is begun and ended on a page of its own.")
    event = NewEvent(sheet.kind.removeprefix(ENDS), sheet.observed_at, sheet.words)
    if sheet.kind == UNPLANNED:
        out = TubeOut(sheet.observed_at, sheet.words)
        record_tube_out(writing, course_id, out, save_key=sheet.save_key)
        return
    act = end_event if sheet.kind.startswith(ENDS) else record_event
    act(writing, course_id, event, save_key=sheet.save_key)


def _sheet_of(form: Form, course: OpenCourse, visit: Visit) -> EventSheet:
    text, moment, error = observed_in(form, course.judge.clock, visit.now)
    return EventSheet(
        save_key=form.one("save_key", LONGEST_KEY) or new_save_key(),
        observed_at=moment,
        observed_text=text,
        observed_error=error,
        kind=form.one("kind", 40),
        words=form.one("words", 1000),
    )


def _form(
    request: Request, visit: Visit, course: OpenCourse, sheet: EventSheet, *, status: int = 200
) -> Response:
    frame = frame_for(request, "Event", links_for(request, visit))
    banner, clock = course.banner(visit), course.judge.clock
    page = event_page(frame, banner, course.facts, sheet, clock, visit.now)
    return show_page(request, "pages/event.html", page, status)
