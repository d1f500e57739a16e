"""The height: what it was, what it is, and saying it anew."""

from fastapi import APIRouter, Request
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.correct_height import HeightTyped, correct_height
from app.actions.correct_reading import CorrectionHeldUp, NothingCorrected
from app.actions.give_reason import ReasonRefused
from app.actions.permissions import Act, may
from app.pages.height import HeightSent, height_page
from app.record.errors import Conflict
from app.web.courses import note_view, open_course
from app.web.dependencies import Corrector, FormDep, Reader
from app.web.forms import Form
from app.web.frame import frame_for
from app.web.identity import require_identity
from app.web.navigation import links_for
from app.web.show import show as show_page
from app.web.visit import Visit

router = APIRouter()

MEANWHILE = "Somebody else said the height anew meanwhile. Look at it below before you change it."


@router.get("/courses/{course_id}/height")
def show(request: Request, visit: Reader, course_id: str) -> Response:
    """The height with its history and what a correction moved."""
    note_view(visit, course_id)
    return _page(request, visit, course_id, HeightSent())


@router.post("/courses/{course_id}/height")
def correct(request: Request, visit: Corrector, form: FormDep, course_id: str) -> Response:
    """Write the height, or show the form again with what holds it up."""
    require_identity(visit, open_course(visit, course_id), form)
    sent = _sent(form)
    typed = HeightTyped(
        sent.height, sent.method, sent.sex, sent.why, form.one("seen", 64), sent.accepted
    )
    try:
        with visit.writing() as writing:
            correct_height(writing, course_id, typed)
    except CorrectionHeldUp as held:
        sent = replace(sent, objections=held.objections)
    except (NothingCorrected, ReasonRefused) as refused:
        sent = replace(sent, error=str(refused))
    except Conflict:
        return _page(request, visit, course_id, replace(sent, trouble=MEANWHILE), 409)
    else:
        return RedirectResponse(f"/courses/{course_id}/height", status_code=303)
    return _page(request, visit, course_id, sent, 422)


def _sent(form: Form) -> HeightSent:
    return HeightSent(
        height=form.one("height_cm", 40),
        method=form.one("height_method", 40),
        sex=form.one("pbw_sex", 20),
        why=form.one("why", 1000),
        accepted=frozenset(form.several("accept")),
    )


def _page(
    request: Request, visit: Visit, course_id: str, sent: HeightSent, status: int = 200
) -> Response:
    frame = frame_for(request, "Height", links_for(request, visit))
    course = open_course(visit, course_id).known(visit)
    may_correct = may(visit.person.role, Act.CORRECT)
    page = height_page(frame, course, sent, may_correct=may_correct)
    return show_page(request, "pages/height.html", page, status)
