"""The sign-in page as an answer, and why nobody was signed in."""

import math
from datetime import timedelta

from starlette.requests import Request
from starlette.responses import Response

from app.pages.plain_pages import SignInPage
from app.web.frame import frame_for
from app.web.show import show
from app.web.site import Site

WRONG = "Name and password do not match. Nobody was signed in."


def refusal_words(wait: timedelta | None) -> str:
    """Why nobody was signed in, without a word on which of the two was wrong."""
    if wait is None:
        return WRONG
    seconds = math.ceil(wait.total_seconds())
    return f"Too many tries did not match. Try again in {seconds} seconds."


def show_sign_in(
    request: Request,
    *,
    next_href: str,
    sign_in_name: str = "",
    error: str = "",
    wait: timedelta | None = None,
    status: int = 200,
) -> Response:
    """The form for name and password."""
    site: Site = request.app.state.site
    page = SignInPage(
        frame=frame_for(request, "Sign in"),
        sign_in_name=sign_in_name,
        error=error,
        next_href=next_href,
        demo_people=site.demo_people if site.settings.demo else (),
    )
    retry = {"Retry-After": str(math.ceil(wait.total_seconds()))} if wait is not None else None
    return show(request, "pages/sign_in.html", page, status, retry)
