"""Who is to have which bed this shift and the next, and who covers for a colleague."""

from datetime import UTC, datetime

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.assign_beds import AssignRefused, Choice, Shift, assign_beds
from app.actions.cover_colleague import CoverRefused, NewCover, cover_colleague
from app.actions.end_cover import NotYoursToEnd, end_cover
from app.actions.permissions import Act, may
from app.pages.assignments import SHIFTS, PlanReader, PlanTyped, assignments_page
from app.record.assignments import events_since
from app.rules.load import EVENTS_BACK
from app.web.board import board_of
from app.web.dependencies import Assigner, Coverer, FormDep, Reader, memory_of
from app.web.errors import BadForm
from app.web.forms import Form
from app.web.frame import frame_for
from app.web.moments import MomentRefused, moment_in_form
from app.web.navigation import links_for
from app.web.shift_plan import read_plan, takers
from app.web.show import show
from app.web.visit import Visit

router = APIRouter()

MOST_BEDS = 400


@router.get("/assignments")
def read(request: Request, visit: Reader, shift: str = "") -> Response:
    """The plan of this shift or the next, beside who has each bed."""
    return _page(request, visit, shift if shift in SHIFTS else "this")


@router.post("/assignments")
def assign(request: Request, visit: Assigner, form: FormDep) -> Response:
    """Save what was chosen for the beds."""
    which, shift = _shift_in(visit, form)
    chosen = _chosen(form)
    try:
        with visit.writing() as writing:
            assign_beds(writing, shift, chosen)
    except AssignRefused as refused:
        beds = {code: choice.staff_id for code, choice in chosen.items()}
        typed = PlanTyped(error=str(refused), beds=beds, bed_errors=refused.beds)
        return _page(request, visit, which, typed)
    return RedirectResponse(f"/assignments?shift={which}", status_code=303)


@router.post("/assignments/covers")
def cover(request: Request, visit: Coverer, form: FormDep) -> Response:
    """Say that somebody covers for a colleague."""
    leads = may(visit.person.role, Act.ASSIGN)
    try:
        new = _new_cover(visit, form)
        with visit.writing() as writing:
            cover_colleague(writing, visit.unit.id, new, leads=leads)
    except (MomentRefused, CoverRefused) as refused:
        names = ("staff", "for", "from_at", "to_at", "words")
        given = {name: form.one(name, 400) for name in names}
        return _page(request, visit, "this", PlanTyped(cover_error=str(refused), cover=given))
    return RedirectResponse("/assignments#covers", status_code=303)


@router.post("/assignments/covers/{cover_id}/end")
def end(request: Request, visit: Coverer, form: FormDep, cover_id: str) -> Response:  # noqa: ARG001 - proven
    """End a cover now."""
    leads = may(visit.person.role, Act.ASSIGN)
    try:
        with visit.writing() as writing:
            end_cover(writing, visit.unit.id, cover_id, leads=leads)
    except NotYoursToEnd as refused:
        return _page(request, visit, "this", PlanTyped(cover_error=str(refused)))
    return RedirectResponse("/assignments#covers", status_code=303)


def _shift_in(visit: Visit, form: Form) -> tuple[str, Shift]:
    """The shift that the form was opened for, though another may have begun meanwhile."""
    try:
        starts_at = datetime.fromisoformat(form.one("starts", 40)).astimezone(UTC)
    except ValueError:
        raise BadForm("it names no shift") from None
    found = {_shift(visit, which).starts_at: which for which in SHIFTS}
    ends_at = visit.clock.shift_end(starts_at)
    return found.get(starts_at, "this"), Shift(visit.unit.id, starts_at, ends_at)


def _shift(visit: Visit, which: str) -> Shift:
    starts_at = visit.clock.shift_start(visit.now)
    if which == "next":
        starts_at = visit.clock.shift_end(visit.now)
    return Shift(visit.unit.id, starts_at, visit.clock.shift_end(starts_at))


def _chosen(form: Form) -> dict[str, Choice]:
    """Who was chosen for each bed that the form names."""
    beds = form.several("bed")
    if len(beds) > MOST_BEDS or len(set(beds)) < len(beds):
        raise BadForm("it names a bed twice")
    return {bed: Choice(form.one(f"to-{bed}", 64), form.one(f"was-{bed}", 64)) for bed in beds}


def _new_cover(visit: Visit, form: Form) -> NewCover:
    start, end_at = (
        moment_in_form(
            form.one(f"{side}_at", 40), visit.clock, visit.now, form.one(f"{side}_which", 10)
        )
        for side in ("from", "to")
    )
    return NewCover(
        form.one("staff", 64), form.one("for", 64), start, end_at, form.one("words", 400)
    )


def _page(request: Request, visit: Visit, which: str, typed: PlanTyped | None = None) -> Response:
    beds = [kept.bed for kept in board_of(visit, memory_of(request)).beds]
    courses = [bed.course_id for bed in beds if bed.summary is not None]
    role = visit.person.role
    with visit.reading() as session:
        plan = read_plan(session, visit, _shift(visit, which).starts_at)
        events = events_since(session, courses, visit.now - EVENTS_BACK)
        people = takers(session)
    reader = PlanReader(visit.person.id, may(role, Act.ASSIGN), may(role, Act.COVER), people)
    page = assignments_page(
        frame_for(request, "Assignments", links_for(request, visit)),
        beds,
        plan,
        which=which,
        reader=reader,
        events=events,
        clock=visit.clock,
        now=visit.now,
        typed=typed,
    )
    return show(request, "pages/assignments.html", page, 422 if typed else 200)
