"""The answer to a form that met another chart than the one it was opened on."""

from collections.abc import Sequence

from starlette.requests import Request
from starlette.responses import HTMLResponse

from app.charting.meeting import Difference
from app.pages.assessment import Sheet
from app.pages.meeting import CHOICE, meeting_page
from app.web.courses import OpenCourse
from app.web.forms import NO_FORM, Form
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show
from app.web.visit import Visit

NOT_CARRIED = frozenset({"csrf", "show", "at"})


def meeting_answer(
    request: Request,
    visit: Visit,
    course: OpenCourse,
    sheet: Sheet,
    differences: Sequence[Difference],
) -> HTMLResponse:
    """Both sides of every difference, with everything that was typed still in the form."""
    form: Form = getattr(request.state, "form", NO_FORM)
    asked = {f"{CHOICE}{difference.key}" for difference in differences}
    sent = ((name, text) for name, texts in form.values.items() for text in texts)
    page = meeting_page(
        frame_for(request, "The chart moved on", links_for(request, visit)),
        course.known(visit),
        sheet.check,
        differences,
        choices=sheet.choices,
        carried=[(n, text) for n, text in sent if n not in NOT_CARRIED and n not in asked],
    )
    return show(request, "pages/meeting.html", page, status=409)
