"""Any number opens: the page that explains one value of one patient."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.pages.as_of import staying_at
from app.pages.explained import explained_page, label_of
from app.web.as_of import as_of_in
from app.web.courses import note_view, open_course
from app.web.dependencies import Reader
from app.web.frame import frame_for
from app.web.moments import moment_in_address
from app.web.navigation import links_for
from app.web.show import show

router = APIRouter()


@router.get("/courses/{course_id}/numbers/{key}")
def number(
    request: Request,
    visit: Reader,
    course_id: str,
    key: str,
    at: str = "",
    row: str = "",
    as_of: str = "",
) -> Response:
    """The sum behind a value, or why there is none and what it would need."""
    course = open_course(visit, course_id, as_of_in(as_of, visit.now))
    frame = course.frame(frame_for(request, label_of(key), links_for(request, visit)))
    page = explained_page(frame, course.known(visit), key, moment_in_address(at), row)
    note_view(visit, course_id)
    return show(request, "pages/explained.html", staying_at(page, course.as_of))
