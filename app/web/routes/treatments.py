"""Inhaled treatments: what is ordered, ordering, giving and stopping one."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.give_treatment import NewGiven, give_treatment
from app.actions.order_treatment import NewTreatment, order_treatment
from app.actions.permissions import Act, may
from app.actions.stop_treatment import TreatmentStop, stop_treatment
from app.charting.typed_sheet import SheetRead
from app.pages.fill import FillSheet
from app.pages.treatments import CODES, GIVE, ORDER, STOP, treatments_page
from app.record.writing import Writing
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


@router.get("/courses/{course_id}/treatments")
def show(
    request: Request, visit: Reader, course_id: str, give: str = "", stop: str = ""
) -> Response:
    """What is ordered and was given, and one form."""
    course = view_course(visit, course_id)
    what = (GIVE, give) if give else (STOP, stop)
    return _page(request, visit, course, what, blank_fill(visit.now))


@router.post("/courses/{course_id}/treatments")
def record(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Keep the order, the time given or the stop, or show the form again."""
    course = course_for(visit, course_id, form)
    what = _what(form)
    sheet = fill_sheet_of(form, CODES[what[0]], course.judge.clock, visit.now)
    try:
        typed = read_sheet_of(sheet)
        with visit.writing() as writing:
            _record(writing, course_id, what, sheet, typed)
    except HOLDS_UP as why:
        return _page(request, visit, course, what, held_up(sheet, why), 422)
    return RedirectResponse(f"/courses/{course_id}/treatments", status_code=303)


def _what(form: Form) -> tuple[str, str]:
    """The act and the treatment it is about; anything else that was sent is an order."""
    act = form.one("act", 10)
    return (act if act in CODES else ORDER), form.one("treatment", 64)


def _record(
    writing: Writing, course_id: str, what: tuple[str, str], sheet: FillSheet, typed: SheetRead
) -> None:
    act, treatment_id = what
    at, key = sheet.observed_at, sheet.save_key
    if act == GIVE:
        given = NewGiven(
            treatment_id,
            at,
            before=typed.word("treatment_before"),
            after=typed.word("treatment_after"),
            response=typed.word("treatment_response"),
            not_given=typed.word("treatment_not_given"),
        )
        give_treatment(writing, course_id, given, save_key=key)
    elif act == STOP:
        stop = TreatmentStop(treatment_id, at, typed.word("ordered_by"), typed.word("why"))
        stop_treatment(writing, course_id, stop, save_key=key)
    else:
        order_treatment(writing, course_id, _order(typed, sheet), save_key=key)


def _order(typed: SheetRead, sheet: FillSheet) -> NewTreatment:
    return NewTreatment(
        drug=typed.word("treatment_drug"),
        dose=typed.word("treatment_dose"),
        route=typed.word("treatment_route"),
        interval_h=typed.number("treatment_interval_h"),
        as_needed=typed.word("treatment_as_needed") == "yes",
        ordered_by=typed.word("ordered_by"),
        ordered_at=sheet.observed_at,
    )


def _page(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    what: tuple[str, str],
    sheet: FillSheet,
    status: int = 200,
) -> Response:
    frame = frame_for(request, "Inhaled treatments", links_for(request, visit))
    may_record = may(visit.person.role, Act.CHART)
    page = treatments_page(frame, course.known(visit), *what, sheet, may_record=may_record)
    return show_page(request, "pages/fill.html", page, status)
