"""A patient's handoff page, its print, and the words that people put under its headings."""

from fastapi import APIRouter, Request
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.permissions import Act, may
from app.actions.write_handoff_note import NoteTooLong, write_handoff_note
from app.pages.as_of import staying_at
from app.pages.handoff import SECTIONS, handoff_page
from app.pages.handoff_forms import Typed
from app.pages.known import known
from app.record.opening import moved_on, read_opening
from app.web.as_of import as_of_in
from app.web.courses import note_view, open_course
from app.web.dependencies import FormDep, NoteWriter, Reader, Watcher
from app.web.errors import BadForm
from app.web.frame import frame_for
from app.web.handoffs import open_handoff
from app.web.identity import require_identity
from app.web.navigation import links_for
from app.web.outages import with_outages
from app.web.show import show
from app.web.visit import Visit

router = APIRouter()


@router.get("/courses/{course_id}/handoff")
def handoff(request: Request, visit: Reader, course_id: str, as_of: str = "") -> Response:
    """The page for the next shift; as of an earlier moment, as it could be read then."""
    course = open_course(visit, course_id, as_of_in(as_of, visit.now))
    note_view(visit, course_id, looked=course.as_of is None)
    if course.as_of is None:
        return handoff_answer(request, visit, course_id)
    frame = course.frame(frame_for(request, "Handoff", links_for(request, visit)))
    frame = with_outages(frame, visit, course.as_of)
    page = handoff_page(frame, course.known(visit), editable=False)
    return show(request, "pages/handoff.html", staying_at(page, course.as_of))


@router.get("/courses/{course_id}/handoff/print")
def handoff_to_print(request: Request, visit: Reader, course_id: str) -> Response:
    """The same page, noted as a print."""
    course = open_course(visit, course_id)
    note_view(visit, course_id, printed=True)
    frame = frame_for(request, "Handoff", links_for(request, visit))
    return show(
        request, "pages/handoff.html", handoff_page(frame, course.known(visit), editable=False)
    )


@router.get("/courses/{course_id}/handoff/standing")
def standing(request: Request, visit: Watcher, course_id: str, mark: str = "") -> Response:
    """Where the handoff stands now, if anything was written of this patient; else 304."""
    course = open_course(visit, course_id)
    with visit.reading() as session:
        if not moved_on(session, course_id, read_opening(mark, visit.now)):
            return Response(status_code=304)
    frame = frame_for(request, "Handoff")
    page = handoff_page(frame, course.known(visit), editable=False)
    return show(request, "parts/_standing_news.html", page)


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
    return RedirectResponse(f"/courses/{course_id}/handoff#head-{heading}", status_code=303)


def handoff_answer(
    request: Request,
    visit: Visit,
    course_id: str,
    typed: Typed | None = None,
    status: int = 200,
) -> Response:
    """The page for this reader; with what a form brought back, where it was not saved."""
    held = open_handoff(visit, course_id, typed)
    judge, words = held.judge, visit.site.words
    course = known(held.facts, judge.policy, judge.clock, visit.now, words, judge.watching)
    frame = with_outages(frame_for(request, "Handoff", links_for(request, visit)), visit)
    page = handoff_page(
        replace(frame, unsaved=held.reader.typed.beside),
        course,
        editable=may(visit.person.role, Act.WRITE_NOTES),
        reader=held.reader,
    )
    return show(request, "pages/handoff.html", page, status)
