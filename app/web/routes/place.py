"""Where a patient is: moving, changing places, out and back, closing a course, taking that back."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.close_course import NewEnd, close_course
from app.actions.move_patient import Move, PlaceRefused, Way, move_patient
from app.actions.permissions import Act, may
from app.actions.take_back_end import TakenBack, take_back_end
from app.pages.fill import FillSheet
from app.pages.place import CLOSE, CODES, SWAP, TAKE_BACK, place_page
from app.record.writing import Writing
from app.web.courses import OpenCourse, open_course, view_course
from app.web.dependencies import FormDep, Placer, Reader
from app.web.fill_form import HOLDS_UP, blank_fill, fill_sheet_of, held_up, require_time
from app.web.frame import frame_for
from app.web.identity import course_for, mistaken_other
from app.web.navigation import links_for
from app.web.places import beds_of
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/place")
def show(request: Request, visit: Reader, course_id: str, act: str = "") -> Response:
    """Where the patient is and was, and the form of one act."""
    course = view_course(visit, course_id)
    return _page(request, visit, course, act, blank_fill(visit.now))


@router.post("/courses/{course_id}/place")
def write(request: Request, visit: Placer, form: FormDep, course_id: str) -> Response:
    """Keep the act, or show the form again with what holds it up."""
    course = course_for(visit, course_id, form)
    act = form.one("act", 20)
    sheet = fill_sheet_of(form, CODES, course.judge.clock, visit.now)
    try:
        _keep(visit, course_id, act, sheet)
    except HOLDS_UP as why:
        return _page(request, visit, course, act, held_up(sheet, why), 422)
    return RedirectResponse(f"/courses/{course_id}", status_code=303)


def _keep(visit: Visit, course_id: str, act: str, sheet: FillSheet) -> None:
    """Raises what holds the act up; whoever changes places has said whose chart the other is."""
    require_time(sheet)
    typed = {code: sheet.typed.get(code, "") for code in CODES}
    if act == SWAP and typed["other"]:
        wrong = mistaken_other(visit, open_course(visit, typed["other"]), typed["other_number"])
        if wrong:
            raise PlaceRefused(wrong)
    with visit.writing() as writing:
        _write(writing, course_id, act, sheet, typed)


def _write(
    writing: Writing, course_id: str, act: str, sheet: FillSheet, typed: dict[str, str]
) -> None:
    key, words = sheet.save_key, typed["words"]
    if act == CLOSE:
        end = NewEnd(typed["end"], sheet.observed_at, words, sheet.accepted)
        close_course(writing, course_id, end, save_key=key)
    elif act == TAKE_BACK:
        take_back_end(writing, course_id, TakenBack(words, typed["bed"]), save_key=key)
    elif act in list(Way):
        to = Move(Way(act), sheet.observed_at, typed["bed"], typed["other"], words)
        move_patient(writing, course_id, to, save_key=key)
    else:
        raise PlaceRefused("Say what is to be done: pick one of the list.")


def _page(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    act: str,
    sheet: FillSheet,
    status: int = 200,
) -> Response:
    frame = frame_for(request, "Where the patient is", links_for(request, visit))
    may_place = may(visit.person.role, Act.PLACE)
    beds = beds_of(visit, course)
    page = place_page(frame, course.known(visit), act, sheet, beds, may_place=may_place)
    return show_page(request, "pages/fill.html", page, status)
