"""A whole course on one page."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.pages.timeline import timeline_page
from app.web.courses import view_course
from app.web.dependencies import Reader
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show

router = APIRouter()


@router.get("/courses/{course_id}/timeline")
def timeline(request: Request, visit: Reader, course_id: str) -> Response:
    """Places, airway, modes, states, single events, handoffs and the end of one course."""
    course = view_course(visit, course_id)
    frame = frame_for(request, "Timeline", links_for(request, visit))
    return show(request, "pages/timeline.html", timeline_page(frame, course.known(visit)))
