"""The sign-in page as an answer, with the cookie that its form proves itself by."""

import math
from datetime import timedelta

from starlette.requests import Request
from starlette.responses import Response

from app.pages.plain_pages import SignInPage
from app.web.form_tokens import new_form_secret
from app.web.frame import frame_for
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
    """The page; the browser gets a form cookie if it has none yet."""
    site: Site = request.app.state.site
    secret = request.cookies.get(site.cookies.form) or new_form_secret()
    request.state.form_secret = secret
    page = SignInPage(
        frame=frame_for(request, "Sign in"),
        sign_in_name=sign_in_name,
        error=error,
        next_href=next_href,
        demo_people=site.demo_people if site.settings.demo else (),
    )
    answer = site.pages.answer("pages/sign_in.html", page, status)
    site.cookies.put(answer, site.cookies.form, secret)
    if wait is not None:
        answer.headers["Retry-After"] = str(math.ceil(wait.total_seconds()))
    return answer
