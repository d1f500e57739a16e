"""One row of the chart by itself: looked at, corrected value by value, struck."""

from fastapi import APIRouter, Request
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.correct_reading import (
    Correction,
    CorrectionHeldUp,
    NothingCorrected,
    correct_reading,
)
from app.actions.give_reason import ReasonRefused
from app.actions.permissions import Act, may
from app.actions.strike_assessment import ANOTHER_PATIENTS, strike_assessment
from app.charting.correcting import Retyped
from app.charting.facts import Assessment
from app.pages.as_of import staying_at
from app.pages.row import Hands, Sent, row_page
from app.record.beds import occupants, unit_beds
from app.record.errors import Conflict, NotFound
from app.web.as_of import as_of_in
from app.web.courses import OpenCourse, open_course, view_course
from app.web.dependencies import Corrector, FormDep, Reader
from app.web.forms import Form
from app.web.frame import frame_for
from app.web.identity import require_identity
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.typed_labels import typed_in
from app.web.visit import Visit

router = APIRouter()

MEANWHILE = (
    "Somebody else corrected or struck this meanwhile. Below is how it stands now; nothing of "
    "yours was saved."
)
LONGEST_WHY = 1000


@router.get("/courses/{course_id}/rows/{row_id}")
def show(request: Request, visit: Reader, course_id: str, row_id: str, as_of: str = "") -> Response:
    """One row with the history of every value."""
    course = view_course(visit, course_id, as_of_in(as_of, visit.now))
    return _page(request, visit, course, row_id, Sent())


@router.post("/courses/{course_id}/rows/{row_id}/values")
def correct(
    request: Request, visit: Corrector, form: FormDep, course_id: str, row_id: str
) -> Response:
    """Put one value right, or show the row again with what holds that up."""
    require_identity(visit, open_course(visit, course_id), form)
    sent = _sent(form)
    retyped = Retyped(sent.text, sent.not_measured, sent.accepted)
    try:
        with visit.writing() as writing:
            correct_reading(writing, course_id, Correction(sent.version, retyped, sent.why))
    except CorrectionHeldUp as held:
        sent = replace(sent, objections=held.objections)
    except (NothingCorrected, ReasonRefused) as refused:
        sent = replace(sent, error=str(refused))
    except Conflict:
        return _meanwhile(request, visit, course_id, row_id, form)
    else:
        return RedirectResponse(f"/courses/{course_id}/rows/{row_id}", status_code=303)
    return _page(request, visit, open_course(visit, course_id), row_id, sent, 422)


@router.post("/courses/{course_id}/rows/{row_id}/strike")
def strike(
    request: Request, visit: Corrector, form: FormDep, course_id: str, row_id: str
) -> Response:
    """Strike the row; it stays in sight, struck, on the bed page."""
    require_identity(visit, open_course(visit, course_id), form)
    why = ANOTHER_PATIENTS if form.one("anothers") else form.one("why", LONGEST_WHY)
    try:
        with visit.writing() as writing:
            strike_assessment(writing, course_id, row_id, why)
    except ReasonRefused as refused:
        sent = Sent(why=why, strike_error=str(refused))
        return _page(request, visit, open_course(visit, course_id), row_id, sent, 422)
    except Conflict:
        return _meanwhile(request, visit, course_id, row_id, form)
    return RedirectResponse(f"/courses/{course_id}", status_code=303)


def _sent(form: Form) -> Sent:
    return Sent(
        version=form.one("version", 64),
        text=form.one("text"),
        not_measured=form.one("not_measured", 200),
        why=form.one("why", LONGEST_WHY),
        accepted=frozenset(form.several("accept")),
    )


def _meanwhile(request: Request, visit: Visit, course_id: str, row_id: str, form: Form) -> Response:
    sent = Sent(trouble=MEANWHILE, beside=typed_in(form))
    return _page(request, visit, open_course(visit, course_id), row_id, sent, 409)


def _page(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    row_id: str,
    sent: Sent,
    status: int = 200,
) -> Response:
    may_correct = course.as_of is None and may(visit.person.role, Act.CORRECT)
    beds = other_beds(visit, course) if may_correct else ()
    hands = Hands(may_correct, visit.person.id, beds)
    frame = course.frame(frame_for(request, "Row", links_for(request, visit)))
    page = row_page(frame, course.known(visit), row_of(course, row_id), hands, sent)
    return show_page(request, "pages/row.html", staying_at(page, course.as_of), status)


def row_of(course: OpenCourse, row_id: str) -> Assessment:
    """A row of this course, struck or not. Raises NotFound."""
    for row in course.facts.assessments:
        if row.id == row_id:
            return row
    raise NotFound("assessment", row_id)


def other_beds(visit: Visit, course: OpenCourse) -> tuple[str, ...]:
    """The codes of the unit's other beds with somebody in them."""
    with visit.reading() as session:
        taken = occupants(session, visit.unit.id)
        beds = unit_beds(session, visit.unit.id)
    mine = course.facts.course_id
    return tuple(bed.code for bed in beds if taken.get(bed.id, mine) != mine)
