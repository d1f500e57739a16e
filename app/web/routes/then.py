"""The form that leads to a course as it was known at an earlier moment."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.pages.then_page import then_href, then_page
from app.web.as_of import typed_then
from app.web.courses import view_course
from app.web.dependencies import Reader
from app.web.forms import TIME, day_and_time
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show

router = APIRouter()


@router.get("/courses/{course_id}/then")
def then(request: Request, visit: Reader, course_id: str, at: str = "") -> Response:
    """Ask for the moment; a time that means one moment leads there at once."""
    at = day_and_time(at, request.query_params.get(f"at{TIME}", ""))
    course = view_course(visit, course_id)
    clock = course.judge.clock
    found, error = typed_then(at, clock, visit.now) if at else ((), "")
    if len(found) == 1:
        return RedirectResponse(then_href(course_id, found[0]), status_code=303)
    frame = frame_for(request, "As it was known", links_for(request, visit))
    banner = course.banner(visit)
    page = then_page(frame, banner, clock, visit.now, typed=at, error=error, may_mean=found)
    return show(request, "pages/then.html", page)
