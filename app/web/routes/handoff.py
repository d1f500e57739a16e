"""A patient's handoff page, its print, and the words that people put under its headings."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.permissions import Act, may
from app.actions.write_handoff_note import NoteTooLong, write_handoff_note
from app.pages.handoff import SECTIONS, handoff_page
from app.web.courses import note_view, open_course
from app.web.dependencies import FormDep, NoteWriter, Reader
from app.web.errors import BadForm
from app.web.frame import frame_for
from app.web.identity import require_identity
from app.web.navigation import links_for
from app.web.show import show
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/handoff")
def handoff(request: Request, visit: Reader, course_id: str) -> Response:
    """The page for the next shift."""
    return _page(request, visit, course_id, printed=False)


@router.get("/courses/{course_id}/handoff/print")
def handoff_to_print(request: Request, visit: Reader, course_id: str) -> Response:
    """The same page, noted as a print."""
    return _page(request, visit, course_id, printed=True)


def _page(request: Request, visit: Visit, course_id: str, *, printed: bool) -> Response:
    course = open_course(visit, course_id)
    note_view(visit, course_id, printed=printed)
    may_write = may(visit.person.role, Act.WRITE_NOTES) and not printed
    frame = frame_for(request, "Handoff", links_for(request, visit))
    page = handoff_page(frame, course.known(visit), editable=may_write)
    return show(request, "pages/handoff.html", page)


@router.post("/courses/{course_id}/handoff/notes")
def write(visit: NoteWriter, form: FormDep, course_id: str) -> Response:
    """Keep what somebody wrote under a heading."""
    heading = form.one("heading")
    if heading not in SECTIONS:
        raise BadForm("there is no such heading")
    require_identity(visit, open_course(visit, course_id), form)
    try:
        with visit.writing() as writing:
            write_handoff_note(writing, course_id, heading, form.one("words"))
    except NoteTooLong as error:
        raise BadForm(str(error)) from error
    return RedirectResponse(f"/courses/{course_id}/handoff#{heading}", status_code=303)
