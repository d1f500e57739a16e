"""The intake at an empty bed: the form, the weight as somebody types, and taking in."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.confirm_identity import confirm_identity
from app.actions.take_in import take_in
from app.pages.fill import FillSheet
from app.pages.frame import NavLink
from app.pages.intake import CODES, MODE, intake_page, weight_card
from app.pages.plain_pages import TroublePage
from app.record.beds import find_bed, occupants
from app.web.dependencies import FormDep, Placer
from app.web.fill_form import HOLDS_UP, blank_fill, fill_sheet_of, held_up, require_time
from app.web.forms import Form
from app.web.frame import frame_for
from app.web.intake_form import intake_of
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.unit_policy import policy_of
from app.web.visit import Visit

router = APIRouter()


@router.get("/beds/{bed}/intake")
def show(request: Request, visit: Placer, bed: str) -> Response:
    """An empty form; a bed that is taken leads to who is there."""
    with visit.reading() as session:
        found = find_bed(session, visit.unit.id, bed)
        there = occupants(session, visit.unit.id).get(found.id)
    if there is None:
        return _page(request, visit, bed, blank_fill(visit.now))
    page = TroublePage(
        frame=frame_for(request, "Intake", links_for(request, visit)),
        heading=f"{found.code} is taken",
        words="Somebody is in this bed, so nobody else can be taken in here.",
        ways=(NavLink("Open who is there", f"/courses/{there}"), NavLink("Board", "/")),
    )
    return show_page(request, "pages/trouble.html", page, 409)


@router.post("/beds/{bed}/intake/weight")
def weigh(request: Request, visit: Placer, form: FormDep, bed: str) -> Response:
    """The predicted weight and its volumes for what is typed so far; saves nothing."""
    sheet, today = _sheet(form, visit), visit.clock.local(visit.now).date()
    adult_age_y = policy_of(visit).adult_age_y
    card = weight_card(sheet, today, f"/beds/{bed}", adult_age_y=adult_age_y)
    return show_page(request, "parts/_weight.html", card)


@router.post("/beds/{bed}/intake")
def take(request: Request, visit: Placer, form: FormDep, bed: str) -> Response:
    """Take the patient in, or show the form again with what holds it up."""
    sheet = _sheet(form, visit)
    if form.one("look") and not sheet.observed_error:
        return _page(request, visit, bed, sheet)
    try:
        course_id = _taken(visit, bed, sheet)
    except HOLDS_UP as why:
        return _page(request, visit, bed, held_up(sheet, why), 422)
    return RedirectResponse(f"/courses/{course_id}/assess", status_code=303)


def _taken(visit: Visit, bed: str, sheet: FillSheet) -> str:
    """The new course; whoever typed the whole record number has said whose chart it is."""
    require_time(sheet)
    intake = intake_of(bed, visit.unit.id, sheet)
    digits = visit.site.settings.identity_digits
    with visit.writing() as writing:
        course_id = take_in(writing, intake, save_key=sheet.save_key)
        number = intake.admission.record_number
        confirm_identity(writing, visit.token, course_id, number, digits)
    return course_id


def _sheet(form: Form, visit: Visit) -> FillSheet:
    return fill_sheet_of(form, (*CODES, MODE), visit.clock, visit.now)


def _page(
    request: Request, visit: Visit, bed: str, sheet: FillSheet, status: int = 200
) -> Response:
    frame = frame_for(request, f"Intake at {bed}", links_for(request, visit))
    adult_age_y = policy_of(visit).adult_age_y
    page = intake_page(frame, bed, sheet, visit.clock, visit.now, adult_age_y=adult_age_y)
    return show_page(request, "pages/intake.html", page, status)
