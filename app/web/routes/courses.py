"""The list of courses that are in no bed."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.charting.course_ends import end_words
from app.pages.courses import ListedCourse, courses_page
from app.record.course_list import courses_in_no_bed
from app.web.dependencies import Reader
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show

router = APIRouter()


@router.get("/courses")
def courses(request: Request, visit: Reader) -> Response:
    """Imported and ended courses; each can be opened."""
    with visit.reading() as session:
        listed = [
            ListedCourse(
                course_id=entry.course.id,
                started=entry.course.support_started_at,
                ended=entry.course.ended_at,
                origin=entry.course.origin,
                end=end_words(entry.course.end_kind, entry.course.end_words),
                checks=entry.checks,
                last_check=entry.last_check,
                out_since=entry.out_since,
                out_words=entry.out_words,
            )
            for entry in courses_in_no_bed(session, visit.unit.id)
        ]
    frame = frame_for(request, "Ended or imported courses", links_for(request, visit))
    return show(request, "pages/courses.html", courses_page(frame, listed, visit.clock, visit.now))
