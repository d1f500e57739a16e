"""One event by itself: looked at, its time or words corrected, it or its end struck."""

from fastapi import APIRouter, Request
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.correct_event import EventCorrection, correct_event
from app.actions.give_reason import ReasonRefused
from app.actions.permissions import Act, may
from app.actions.record_event import EventRefused
from app.actions.strike_event import strike_event, strike_event_end
from app.charting.event_facts import Event
from app.pages.as_of import staying_at
from app.pages.one_event import END, EVENT, EventSent, one_event_page
from app.record.errors import Conflict, NotFound
from app.web.as_of import as_of_in
from app.web.check_form import observed_in
from app.web.courses import OpenCourse, open_course, view_course
from app.web.dependencies import Corrector, FormDep, Reader
from app.web.forms import Form
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.routes.rows import LONGEST_WHY, MEANWHILE
from app.web.show import show as show_page
from app.web.typed_labels import typed_in
from app.web.visit import Visit

router = APIRouter()

ADDRESS = "/courses/{course_id}/events/{event_id}"


@router.get(ADDRESS)
def show(
    request: Request, visit: Reader, course_id: str, event_id: str, as_of: str = ""
) -> Response:
    """One event with its history."""
    course = view_course(visit, course_id, as_of_in(as_of, visit.now))
    return _page(request, visit, course, event_id, EventSent())


@router.post(f"{ADDRESS}/correct")
def correct(
    request: Request, visit: Corrector, form: FormDep, course_id: str, event_id: str
) -> Response:
    """Put time or words right, or show the event again with what holds that up."""
    course = course_for(visit, course_id, form)
    sent, seen = _sent(form, course, visit), form.one("version", 64)
    if sent.at_error or sent.at is None:
        return _page(request, visit, course, event_id, sent, 422)
    to = EventCorrection(event_id, sent.at, sent.words, sent.why, seen, of_end=sent.part == END)
    try:
        with visit.writing() as writing:
            correct_event(writing, course_id, to)
    except (EventRefused, ReasonRefused) as refused:
        return _page(request, visit, course, event_id, replace(sent, error=str(refused)), 422)
    except Conflict:
        return _meanwhile(request, visit, course_id, event_id, form)
    return RedirectResponse(f"/courses/{course_id}/events/{event_id}", status_code=303)


@router.post(f"{ADDRESS}/strike")
def strike(
    request: Request, visit: Corrector, form: FormDep, course_id: str, event_id: str
) -> Response:
    """Strike the event or its end; it stays in sight, struck, on the timeline."""
    course = course_for(visit, course_id, form)
    part, why = _part(form), form.one("why", LONGEST_WHY)
    act = strike_event_end if part == END else strike_event
    try:
        with visit.writing() as writing:
            act(writing, course_id, event_id, why, seen=form.one("version", 64))
    except (EventRefused, ReasonRefused) as refused:
        sent = EventSent(part, strike_why=why, strike_error=str(refused))
        return _page(request, visit, course, event_id, sent, 422)
    except Conflict:
        return _meanwhile(request, visit, course_id, event_id, form)
    return RedirectResponse(f"/courses/{course_id}/events/{event_id}", status_code=303)


def _part(form: Form) -> str:
    return END if form.one("part", 10) == END else EVENT


def _sent(form: Form, course: OpenCourse, visit: Visit) -> EventSent:
    text, moment, error = observed_in(form, course.judge.clock, visit.now)
    return EventSent(
        part=_part(form),
        at=moment,
        at_text=text,
        at_error=error if text else "Write day and time.",
        words=form.one("words", 1000),
        why=form.one("why", LONGEST_WHY),
    )


def _meanwhile(
    request: Request, visit: Visit, course_id: str, event_id: str, form: Form
) -> Response:
    sent = EventSent(trouble=MEANWHILE, beside=typed_in(form))
    return _page(request, visit, open_course(visit, course_id), event_id, sent, 409)


def _page(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    event_id: str,
    sent: EventSent,
    status: int = 200,
) -> Response:
    may_correct = course.as_of is None and may(visit.person.role, Act.CORRECT)
    frame = course.frame(frame_for(request, "Event", links_for(request, visit)))
    event = _event_of(course, event_id)
    page = one_event_page(frame, course.known(visit), event, sent, may_correct=may_correct)
    return show_page(request, "pages/one_event.html", staying_at(page, course.as_of), status)


def _event_of(course: OpenCourse, event_id: str) -> Event:
    """An event of this course, struck or not. Raises NotFound."""
    for event in (*course.facts.events, *course.facts.struck_events):
        if event.id == event_id:
            return event
    raise NotFound("event", event_id)
