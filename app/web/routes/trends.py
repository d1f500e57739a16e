"""A course over time."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.pages.trends import trends_page
from app.web.courses import view_course
from app.web.dependencies import Reader
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show

router = APIRouter()


@router.get("/courses/{course_id}/trends")
def trends(request: Request, visit: Reader, course_id: str, over: str = "") -> Response:
    """Settings, measured values and indices over the time that the address names."""
    course = view_course(visit, course_id)
    frame = frame_for(request, "Trends", links_for(request, visit))
    page = trends_page(frame, course.known(visit), course.judge.watching.policies, over)
    return show(request, "pages/trends.html", page)
