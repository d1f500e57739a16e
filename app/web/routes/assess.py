"""The check form: shown, worked out while somebody types, and saved."""

from fastapi import APIRouter, Request
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.chart_assessment import HeldUp, NothingCharted, chart_assessment
from app.actions.meet_the_chart import ChartMovedOn, Opened
from app.actions.permissions import Act, may
from app.charting.check import read_check
from app.charting.from_paper import PAPER
from app.pages.assess_live import live_answer
from app.pages.assessment import KINDS, Sheet, assess_page, blank_sheet
from app.pages.unsigned import CHARTING
from app.record.errors import KeyReused, NotWritable
from app.record.opening import read_opening
from app.web.check_form import being_typed, kind_in, new_save_key, sheet_of
from app.web.courses import OpenCourse, open_course, view_course
from app.web.covering import others_bed, question_about
from app.web.dependencies import Drafter, FormDep
from app.web.drafts import find_kept, forget_draft, sheet_from
from app.web.forms import NO_FORM, Form
from app.web.frame import frame_for
from app.web.identity import NeedsIdentity, question_for, require_identity
from app.web.meeting_page import meeting_answer
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()

NOTHING_TO_SAVE = "Nothing was typed, kept or explained, so there is nothing to save."
ALL_LEFT_OUT = "All of yours was left out, so nothing was saved: what others charted stands."


@router.get("/courses/{course_id}/assess")
def show(
    request: Request, visit: Drafter, course_id: str, kind: str = "", paper: str = ""
) -> Response:
    """An empty form for now or for what stands on paper, or the one left half typed."""
    course = view_course(visit, course_id)
    unit = visit.site.words.gas_unit
    blank = blank_sheet(course.facts, kind_in(kind), visit.now, new_save_key(), unit)
    sheet = replace(blank, opened=course.opening.text)
    if paper:
        sheet = replace(sheet, check=replace(sheet.check, source=PAPER))
    draft = find_kept(visit, course_id, sheet.check.kind)
    if draft is not None:
        sheet = sheet_from(draft, course.facts, visit)
    return _form(request, visit, course, _asking(sheet, visit, course))


@router.post("/courses/{course_id}/assess/live")
def live(request: Request, visit: Drafter, form: FormDep, course_id: str) -> Response:
    """What the numbers mean so far, and what is said beside each field; saves nothing."""
    course = open_course(visit, course_id)
    judge = course.judge
    answer = live_answer(
        course.facts,
        sheet_of(form, visit, judge.clock).check,
        judge.watching.policies,
        judge.clock,
        visit.now,
        being_typed=being_typed(form),
        words=visit.site.words,
    )
    return show_page(request, "parts/_answers.html", answer)


@router.post("/courses/{course_id}/assess")
def save(request: Request, visit: Drafter, form: FormDep, course_id: str) -> Response:
    """Save the check, or show the form again with what holds it up and every word still in it."""
    course = open_course(visit, course_id)
    sheet = sheet_of(form, visit, course.judge.clock)
    if form.one("show"):
        return _form(request, visit, course, _asking(sheet, visit, course, form))
    try:
        require_identity(visit, course, form)
    except NeedsIdentity as needed:
        sheet = replace(
            _read(sheet, course, visit),
            identity=question_for(visit, course, form, needed.words),
            cover=question_about(visit, needed.bed, form, needed.why_not),
        )
        return _form(request, visit, course, sheet, status=422)
    if sheet.observed_error:
        return _form(request, visit, course, _read(sheet, course, visit), status=422)
    return _save(request, visit, course, sheet)


def _asking(sheet: Sheet, visit: Visit, course: OpenCourse, form: Form = NO_FORM) -> Sheet:
    """With the questions that stand before a save: whose chart, and why in a colleague's bed."""
    return replace(
        sheet,
        identity=question_for(visit, course, form),
        cover=question_about(visit, others_bed(visit, course), form),
    )


def _save(request: Request, visit: Visit, course: OpenCourse, sheet: Sheet) -> Response:
    back = f"/courses/{course.facts.course_id}"
    opened = Opened(read_opening(sheet.opened, visit.now), sheet.choices)
    try:
        with visit.writing() as writing:
            charted = chart_assessment(
                writing,
                course.facts.course_id,
                sheet.check,
                save_key=sheet.save_key,
                opened=opened,
                signed=may(visit.person.role, Act.CHART),
            )
            forget_draft(writing, course.facts.course_id, sheet.check.kind)
    except HeldUp as held:
        return _form(request, visit, course, replace(sheet, read=held.read), status=422)
    except ChartMovedOn as moved:
        return meeting_answer(request, visit, course, sheet, moved.differences)
    except NothingCharted:
        words = ALL_LEFT_OUT if sheet.choices else NOTHING_TO_SAVE
        return _form(request, visit, course, replace(sheet, not_saved=words), status=422)
    except KeyReused:
        words = (
            "This form was saved before with other content. What it saved stands on the bed page."
        )
        again = replace(
            sheet, already_saved=words, already_saved_href=back, save_key=new_save_key()
        )
        return _form(request, visit, course, _read(again, course, visit), status=422)
    except NotWritable as error:
        visit.site.health.refused(error.why)
        kept = replace(_read(sheet, course, visit), not_saved=_not_saved(error))
        return _form(request, visit, course, kept, status=503)
    return RedirectResponse(f"{back}?saved={charted.assessment_id}", status_code=303)


def _not_saved(error: NotWritable) -> str:
    perhaps = "It may have been saved: look before you send it again. " if error.uncertain else ""
    return f"{perhaps}The record cannot be written now: {error.why}. What you typed stands below."


def _read(sheet: Sheet, course: OpenCourse, visit: Visit) -> Sheet:
    read = read_check(sheet.check, course.facts, now=visit.now, site=course.judge.site)
    return replace(sheet, read=read)


def _form(
    request: Request, visit: Visit, course: OpenCourse, sheet: Sheet, *, status: int = 200
) -> Response:
    frame = frame_for(request, KINDS[sheet.check.kind], links_for(request, visit))
    judge, words = course.judge, visit.site.words
    policies = judge.watching.policies
    page = assess_page(frame, course.facts, sheet, policies, judge.clock, visit.now, words)
    if not may(visit.person.role, Act.CHART):
        page = replace(page, draft_words=CHARTING)
    return show_page(request, "pages/assess.html", page, status)
