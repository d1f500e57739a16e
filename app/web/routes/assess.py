"""The check form: shown, worked out while somebody types, and saved."""

from dataclasses import replace

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.chart_assessment import HeldUp, NothingCharted, chart_assessment
from app.charting.check import read_check
from app.pages.assessment import Sheet, assess_page, blank_sheet
from app.record.errors import KeyReused, NotWritable
from app.web.check_form import kind_in, new_save_key, sheet_of
from app.web.courses import OpenCourse, note_view, open_course
from app.web.dependencies import Charter, FormDep
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/assess")
def show(request: Request, visit: Charter, course_id: str, kind: str = "") -> Response:
    """An empty form for now."""
    course = open_course(visit, course_id)
    note_view(visit, course_id)
    sheet = blank_sheet(course.facts, kind_in(kind), visit.now, new_save_key())
    return _form(request, visit, course, sheet)


@router.post("/courses/{course_id}/assess/live")
def live(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """What the numbers mean so far; saves nothing."""
    course = open_course(visit, course_id)
    sheet = sheet_of(form, visit, course.judge.clock)
    return _form(request, visit, course, sheet, template="parts/_live.html")


@router.post("/courses/{course_id}/assess")
def save(request: Request, visit: Charter, form: FormDep, course_id: str) -> Response:
    """Save the check, or show the form again with what holds it up and every word still in it."""
    course = open_course(visit, course_id)
    sheet = sheet_of(form, visit, course.judge.clock)
    if form.one("show"):
        return _form(request, visit, course, sheet)
    if sheet.observed_error:
        return _form(request, visit, course, _read(sheet, course, visit), status=422)
    return _save(request, visit, course, sheet)


def _save(request: Request, visit: Visit, course: OpenCourse, sheet: Sheet) -> Response:
    back = f"/courses/{course.facts.course_id}"
    try:
        with visit.writing() as writing:
            charted = chart_assessment(
                writing, course.facts.course_id, sheet.check, save_key=sheet.save_key
            )
    except HeldUp as held:
        return _form(request, visit, course, replace(sheet, read=held.read), status=422)
    except NothingCharted:
        words = "Nothing was typed, kept or explained, so there is nothing to save."
        return _form(request, visit, course, replace(sheet, not_saved=words), status=422)
    except KeyReused:
        words = (
            "This form was saved before with other content. What it saved stands on the bed page."
        )
        again = replace(
            sheet, already_saved=words, already_saved_href=back, save_key=new_save_key()
        )
        return _form(request, visit, course, _read(again, course, visit), status=409)
    except NotWritable as error:
        visit.site.health.refused(error.why)
        kept = replace(_read(sheet, course, visit), not_saved=_not_saved(error))
        return _form(request, visit, course, kept, status=503)
    return RedirectResponse(f"{back}#{charted.assessment_id}", status_code=303)


def _not_saved(error: NotWritable) -> str:
    perhaps = "It may have been saved: look before you send it again. " if error.uncertain else ""
    return f"{perhaps}The record cannot be written now: {error.why}. What you typed stands below."


def _read(sheet: Sheet, course: OpenCourse, visit: Visit) -> Sheet:
    return replace(sheet, read=read_check(sheet.check, course.facts, now=visit.now))


def _form(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    sheet: Sheet,
    *,
    status: int = 200,
    template: str = "pages/assess.html",
) -> Response:
    frame = frame_for(request, "Check", links_for(request, visit))
    judge = course.judge
    page = assess_page(frame, course.facts, sheet, judge.policy, judge.clock, visit.now)
    return show_page(request, template, page, status)
