"""Day, night, or as the device: a choice of this browser, kept in a cookie and nowhere else."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.web.cookies import ONE_YEAR_S, THEMES
from app.web.dependencies import AnybodysForm
from app.web.errors import BadForm
from app.web.links import local_path
from app.web.site import SiteDep

router = APIRouter()


@router.post("/theme")
async def choose(request: Request, form: AnybodysForm, site: SiteDep) -> Response:
    """Keep the choice; a script that has already changed the page gets no page back."""
    theme = form.one("theme")
    if theme not in THEMES:
        raise BadForm("there is no such light")
    is_navigation = request.headers.get("sec-fetch-mode", "navigate") == "navigate"
    answer = (
        RedirectResponse(local_path(form.one("next")), status_code=303)
        if is_navigation
        else Response(status_code=204)
    )
    site.cookies.put(answer, site.cookies.theme, theme, ONE_YEAR_S)
    return answer
