"""A row that was written on the wrong patient: led to the right one, and charted there."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.chart_assessment import HeldUp, NothingCharted
from app.actions.chart_on_right_patient import chart_on_right_patient
from app.charting.facts import Assessment
from app.pages.again import again_page
from app.record.beds import find_bed, occupants
from app.record.errors import NotFound
from app.record.rows_by_id import course_of_row
from app.web.courses import OpenCourse, note_view, open_course
from app.web.dependencies import Corrector, FormDep
from app.web.errors import BadForm, MayNot
from app.web.frame import frame_for
from app.web.identity import require_identity
from app.web.navigation import links_for
from app.web.routes.rows import row_of
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/rows/{row_id}/elsewhere")
def lead(visit: Corrector, course_id: str, row_id: str, bed: str = "") -> Response:
    """From the wrong chart to the page of the patient in that bed, where the row is looked at."""
    row_of(open_course(visit, course_id), row_id)
    with visit.reading() as session:
        right = occupants(session, visit.unit.id).get(find_bed(session, visit.unit.id, bed).id)
    if right is None or right == course_id:
        raise BadForm("choose the bed of another patient")
    return RedirectResponse(f"/courses/{right}/again/{row_id}", status_code=303)


@router.get("/courses/{course_id}/again/{row_id}")
def show(request: Request, visit: Corrector, course_id: str, row_id: str) -> Response:
    """What would be charted here, on this patient's page; nothing of the chart it comes from."""
    _, row = _row_elsewhere(visit, course_id, row_id)
    note_view(visit, course_id)
    return _page(request, visit, open_course(visit, course_id), row)


@router.post("/courses/{course_id}/again/{row_id}")
def chart(
    request: Request, visit: Corrector, form: FormDep, course_id: str, row_id: str
) -> Response:
    """Chart it here and strike it there, in one write, or show what holds that up."""
    course = open_course(visit, course_id)
    wrong, row = _row_elsewhere(visit, course_id, row_id)
    require_identity(visit, course, form)
    accepted = frozenset(form.several("accept"))
    try:
        with visit.writing() as writing:
            chart_on_right_patient(writing, wrong, row_id, course_id, accepted)
    except (HeldUp, NothingCharted):
        return _page(request, visit, course, row, accepted, 422)
    return RedirectResponse(f"/courses/{course_id}", status_code=303)


def _row_elsewhere(visit: Visit, course_id: str, row_id: str) -> tuple[str, Assessment]:
    """The wrong course's id and the row. Only who saw the numbers gets to see them here."""
    with visit.reading() as session:
        wrong = course_of_row(session, row_id)
    if wrong == course_id:
        raise NotFound("assessment", row_id)
    row = row_of(open_course(visit, wrong), row_id)
    if row.author_id != visit.person.id:
        raise MayNot("person who did not see the numbers", "chart them again")
    return wrong, row


def _page(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    row: Assessment,
    accepted: frozenset[str] = frozenset(),
    status: int = 200,
) -> Response:
    frame = frame_for(request, "Chart again", links_for(request, visit))
    page = again_page(frame, course.known(visit), row, accepted)
    return show_page(request, "pages/again.html", page, status)
