"""A page as an answer."""

from collections.abc import Mapping

from starlette.requests import Request
from starlette.responses import HTMLResponse

from app.web.site import Site


def show(
    request: Request,
    template: str,
    page: object,
    status: int = 200,
    headers: Mapping[str, str] | None = None,
) -> HTMLResponse:
    """The template filled with the page; a part is shown like a whole page.

    Whoever is not signed in gets the cookie that the page's forms prove themselves by. A part sets
    none: one that comes late, after a lock, would take away that of the sign-in opened meanwhile.
    """
    site: Site = request.app.state.site
    answer = site.pages.answer(template, page, status)
    answer.headers.update(headers or {})
    secret = getattr(request.state, "form_secret", "")
    if secret and not is_part(request):
        site.cookies.put(answer, site.cookies.form, secret)
    return answer


def is_part(request: Request) -> bool:
    """Whether what is answered will be set into a page that is open already."""
    return "hx-request" in request.headers and "hx-boosted" not in request.headers
