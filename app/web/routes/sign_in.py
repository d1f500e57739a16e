"""Sign in: the one page that is open to everybody."""

from functools import partial

import anyio.to_thread
from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.passwords import LONGEST
from app.actions.permissions import Role
from app.actions.sign_in import Attempt, MustWait, Opened, SignInRefused, sign_in
from app.web.dependencies import AnybodysForm, address_of, find_visit
from app.web.errors import TooBusy
from app.web.forms import Form
from app.web.links import local_path
from app.web.sign_in_page import refusal_words, show_sign_in
from app.web.site import MOST_WAITING, WAIT_WHEN_BUSY, Site, SiteDep

router = APIRouter()

LONGEST_NAME = 100

FIRST_PAGES = {Role.THERAPIST.value: "/mine"}
"""Where a role begins that was on its way nowhere else; everybody else begins with the board."""


@router.get("/sign-in")
async def show(request: Request, site: SiteDep, next: str = "/") -> Response:  # noqa: A002
    """The form; whoever is signed in already goes on."""
    if await find_visit(request, site):
        return RedirectResponse(local_path(next), status_code=303)
    return show_sign_in(request, next_href=local_path(next))


@router.post("/sign-in")
async def enter(request: Request, form: AnybodysForm, site: SiteDep) -> Response:
    """Check name and password, and lead to where the person was going."""
    next_href = local_path(form.one("next"))
    try:
        opened = await _open(request, form, site)
    except SignInRefused as refused:
        wait = refused.wait if isinstance(refused, MustWait) else None
        return show_sign_in(
            request,
            next_href=next_href,
            sign_in_name=form.one("sign_in_name", LONGEST_NAME),
            error=refusal_words(wait),
            wait=wait,
            status=401 if wait is None else 429,
        )
    begins = FIRST_PAGES.get(opened.person.role, next_href) if next_href == "/" else next_href
    answer = RedirectResponse(begins, status_code=303)
    site.cookies.put(answer, site.cookies.session, opened.token)
    site.cookies.take_back(answer, site.cookies.form)
    return answer


async def _open(request: Request, form: Form, site: Site) -> Opened:
    """The action in a thread of its own kind, so that a queue of sign-ins slows no board down."""
    if site.hashing.statistics().tasks_waiting >= MOST_WAITING:
        raise TooBusy(WAIT_WHEN_BUSY)
    attempt = Attempt(
        sign_in_name=form.one("sign_in_name", LONGEST_NAME),
        password=form.exact("password", LONGEST),
        address=address_of(request),
        earlier_token=request.cookies.get(site.cookies.session, ""),
    )
    work = partial(sign_in, site.database, site.clock, site.passwords, attempt, site.longest)
    return await anyio.to_thread.run_sync(work, limiter=site.hashing)
