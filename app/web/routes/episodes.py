"""Prone sessions, transports, standby and breathing trials: what goes on, and charting of it."""

from collections.abc import Mapping
from datetime import datetime

from fastapi import APIRouter, Request
from msgspec import Struct
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.add_to_event import add_to_event
from app.actions.end_event import end_event
from app.actions.permissions import Act, may
from app.actions.record_event import EventRefused, NewEvent, record_event
from app.charting.episodes import EPISODE_ACTS, EpisodeAct, Phase
from app.charting.typed_sheet import SheetRead
from app.pages.episodes import HEADING, episodes_page
from app.pages.fill import FillSheet
from app.pages.transport_words import CYLINDER, cylinder_of
from app.rules.unit_clock import UnitClock
from app.web.courses import OpenCourse, open_course, view_course
from app.web.cylinder_form import cylinder_typed_in
from app.web.dependencies import Charter, FormDep, Reader
from app.web.fill_form import HOLDS_UP, blank_fill, fill_sheet_of, held_up, read_sheet_of
from app.web.forms import Form
from app.web.frame import frame_for
from app.web.identity import require_identity
from app.web.moments import MomentRefused, moment_in_form
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()

TWICE = " Save the beginning here, and chart the end by itself."


class _Sent(Struct, frozen=True):
    """What a form sent: which act, its fields, and what was typed of the cylinder."""

    act: str
    sheet: FillSheet
    cylinder: dict[str, str]


@router.get("/courses/{course_id}/episodes")
def show(request: Request, visit: Reader, course_id: str, act: str = "") -> Response:
    """What goes on at this patient, and the form of one act."""
    course = view_course(visit, course_id)
    return _page(request, visit, course, _Sent(act, blank_fill(visit.now), {}))


@router.post("/courses/{course_id}/episodes")
def record(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Keep what was charted, or show the form again with what holds it up."""
    course = open_course(visit, course_id)
    sent = _sent(form, course, visit)
    if form.one("look", 10):
        return _page(request, visit, course, sent)
    require_identity(visit, course, form)
    try:
        _write(visit, course, sent, read_sheet_of(sent.sheet))
    except HOLDS_UP as why:
        sent = replace(sent, sheet=held_up(sent.sheet, why))
        return _page(request, visit, course, sent, 422)
    return RedirectResponse(f"/courses/{course_id}/episodes", status_code=303)


def _sent(form: Form, course: OpenCourse, visit: Visit) -> _Sent:
    act = form.one("act", 40)
    known = EPISODE_ACTS.get(act)
    codes = (*known.asks, *known.at_end) if known is not None else ()
    sheet = fill_sheet_of(form, codes, course.judge.clock, visit.now)
    cylinder = cylinder_typed_in(form) if known is not None and known.cylinder else {}
    return _Sent(act, sheet, cylinder)


def _write(visit: Visit, course: OpenCourse, sent: _Sent, typed: SheetRead) -> None:
    """Raises EventRefused for an act that there is not, and for what the action refuses."""
    act = EPISODE_ACTS.get(sent.act)
    if act is None:
        raise EventRefused("Say what was done: pick one of the list.")
    if sent.cylinder and (unclear := cylinder_of(sent.cylinder, course.judge.policy).words):
        raise EventRefused(f"The cylinder: {unclear}")
    event = _event(act, sent, typed, course.judge.clock, visit.now)
    do = {Phase.ADD: add_to_event, Phase.END: end_event}.get(act.phase, record_event)
    with visit.writing() as writing:
        do(writing, course.facts.course_id, event, save_key=sent.sheet.save_key)


def _event(
    act: EpisodeAct, sent: _Sent, typed: SheetRead, clock: UnitClock, now: datetime
) -> NewEvent:
    words = typed.word("episode_words")
    details = _details(typed) | {f"{CYLINDER}{name}": text for name, text in sent.cylinder.items()}
    if act.phase is Phase.ADD and words:
        details["episode_words"] = words
    ended = _ended_at(sent.sheet.typed.get("ended_at", ""), clock, now)
    return NewEvent(act.kind, sent.sheet.observed_at, words, details, ended)


def _ended_at(text: str, clock: UnitClock, now: datetime) -> datetime | None:
    if not text:
        return None
    try:
        return moment_in_form(text, clock, now)
    except MomentRefused as refused:
        raise EventRefused(f"Ended at: {refused}{TWICE}") from None


def _details(typed: SheetRead) -> dict[str, str]:
    """Each answer as it is kept: a number in its own unit, a word as the choice is called."""
    kept: Mapping[str, str] = {
        code: f"{read.number:f}" if read.number is not None else read.word
        for code, read in typed.values.items()
    }
    return {code: said for code, said in kept.items() if code not in ("episode_words", "ended_at")}


def _page(
    request: Request, visit: Visit, course: OpenCourse, sent: _Sent, status: int = 200
) -> Response:
    frame = frame_for(request, HEADING, links_for(request, visit))
    may_record = may(visit.person.role, Act.CHART)
    page = episodes_page(
        frame, course.known(visit), sent.act, sent.sheet, sent.cylinder, may_record=may_record
    )
    return show_page(request, "pages/fill.html", page, status)
