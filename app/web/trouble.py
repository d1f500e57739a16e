"""One table from what was raised to status and words, and the page that says them."""

from collections.abc import Callable, Mapping
from contextlib import suppress
from typing import Any
from urllib.parse import quote, urlsplit

import structlog
from fastapi.exceptions import RequestValidationError
from msgspec import Struct
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from app.pages.frame import NavLink
from app.pages.plain_pages import TroublePage
from app.record import errors as record
from app.web import errors as web
from app.web.dependencies import find_visit
from app.web.fault_log import where_it_broke
from app.web.forms import NO_FORM, Form
from app.web.frame import frame_for
from app.web.identity import NeedsIdentity
from app.web.identity_page import identity_answer
from app.web.links import local_path
from app.web.show import is_part, show
from app.web.typed_labels import typed_in

log = structlog.get_logger("leeboard.faults")


class Trouble(Struct, frozen=True):
    """What one kind of error means to the person in front of it."""

    status: int
    heading: str
    words: str
    headers: Mapping[str, str] | None = None


NOT_HERE = Trouble(404, "Nothing here", "There is no page at this address, or none for you.")
NOT_OURS = Trouble(
    403,
    "Not saved",
    "This form is older than your sign-in, or it does not come from this site. "
    "Open the page again and enter it there; what you typed is below.",
)
BUG = Trouble(
    500,
    "Our mistake",
    "This page failed, and nothing was saved. The number below finds it in the log.",
)
SIGNED_OUT = Trouble(
    401, "Not saved: signed out", "Your sign-in has ended. What you typed is below; sign in again."
)


OTHER_PATIENT = Trouble(
    409,
    "Not saved: another patient",
    "This form was opened for another patient than the one it was sent to. Nothing was saved on "
    "either. What you typed is below; open the right patient's page and enter it there.",
)


def _may_not(error: web.MayNot) -> Trouble:
    return Trouble(403, "Not for this role", f"A {error.role} may not {error.act} here.")


def _bad_form(error: web.BadForm) -> Trouble:
    return Trouble(400, "Not saved", f"The form could not be read: {error.why}.")


def _busy(error: web.TooBusy) -> Trouble:
    seconds = str(max(1, round(error.wait.total_seconds())))
    words = "Too many are signing in at this moment. Try again shortly."
    return Trouble(503, "One moment", words, {"Retry-After": seconds})


def _not_writable(error: record.NotWritable) -> Trouble:
    if error.uncertain:
        words = (
            f"The connection broke while saving ({error.why}). It may have been saved: look at the "
            "page before you enter it again. What you typed is below."
        )
        return Trouble(503, "Perhaps not saved", words, {"Retry-After": "10"})
    words = (
        f"The record cannot be written now: {error.why}. What you typed is below, and only there."
    )
    return Trouble(503, "Not saved", words, {"Retry-After": "10"})


def _not_readable(error: record.NotReadable) -> Trouble:
    words = f"The record cannot be read now: {error.why}. Use the last printed sheet until it can."
    return Trouble(503, "The record does not answer", words, {"Retry-After": "10"})


def _fixed(trouble: Trouble) -> Callable[[Any], Trouble]:
    return lambda _error: trouble


TROUBLES: Mapping[type[Exception], Callable[[Any], Trouble]] = {
    # Of an address alone: nothing else here is read by its type.
    RequestValidationError: _fixed(NOT_HERE),
    web.UnknownHost: _fixed(
        Trouble(400, "Another name", "This site does not go by the name in that address.")
    ),
    web.BodyTooLarge: _fixed(Trouble(413, "Not saved", "That is more than one form can carry.")),
    web.BodyTooSlow: _fixed(Trouble(408, "Not saved", "The form took too long to arrive.")),
    web.NotAForm: _fixed(
        Trouble(415, "Not saved", "Only forms of this site's pages are read here.")
    ),
    web.BadForm: _bad_form,
    web.FormNotOurs: _fixed(NOT_OURS),
    web.NeedsSignIn: _fixed(SIGNED_OUT),
    web.NotSetUp: _fixed(
        Trouble(503, "Not set up yet", "Without a unit there are no beds and nothing to show here.")
    ),
    web.OtherPatient: _fixed(OTHER_PATIENT),
    web.MayNot: _may_not,
    web.TooBusy: _busy,
    record.NotFound: _fixed(NOT_HERE),
    record.NotWritable: _not_writable,
    record.NotReadable: _not_readable,
    record.Conflict: _fixed(
        Trouble(
            409,
            "Not saved",
            "Somebody else changed this meanwhile. Open the page again, look, and enter what "
            "still holds.",
        )
    ),
    record.KeyReused: _fixed(
        Trouble(
            422, "Not saved", "This form was already sent with other content. Open the page again."
        )
    ),
}


async def answer_to(request: Request, error: Exception) -> Response:
    """The answer to anything raised while a request was served."""
    if isinstance(error, web.NeedsSignIn) and (elsewhere := _to_sign_in(request)):
        return elsewhere
    if isinstance(error, NeedsIdentity):
        return identity_answer(request, error)
    trouble = trouble_of(error)
    request.state.touched = False  # what follows an answer does not follow an exception
    if trouble is BUG:
        log.error(
            "fault",
            request_id=request.state.request_id,
            **where_it_broke(error),
        )
    if isinstance(error, record.NotWritable):
        request.app.state.site.health.refused(error.why)
    # An unknown address, too, is answered to somebody by name; to nobody where that cannot be read:
    # what goes wrong in here would go out past our headers and our words.
    with suppress(Exception):
        await find_visit(request, request.app.state.site)
    return trouble_answer(request, trouble)


def trouble_of(error: Exception) -> Trouble:
    """The row of the table for an error; for one that nobody foresaw, our mistake."""
    if isinstance(error, HTTPException):
        return _of_http(error)
    for kind in type(error).__mro__:
        if kind in TROUBLES:
            return TROUBLES[kind](error)
    return BUG


def trouble_answer(request: Request, trouble: Trouble) -> HTMLResponse:
    """The page of a trouble; only its part for a request that will set it into a page."""
    page = trouble_page(request, trouble)
    template = "parts/_trouble.html" if is_part(request) else "pages/trouble.html"
    return show(request, template, page, trouble.status, trouble.headers)


def trouble_page(request: Request, trouble: Trouble) -> TroublePage:
    """Heading, words, ways on, and what had been typed."""
    form: Form = getattr(request.state, "form", NO_FORM)
    signed_out = trouble is SIGNED_OUT
    way = NavLink("Sign in", "/sign-in") if signed_out else NavLink("Back to the start", "/")
    return TroublePage(
        frame=frame_for(request, trouble.heading),
        heading=trouble.heading,
        words=trouble.words,
        ways=(way,),
        request_id=request.state.request_id if trouble is BUG else "",
        typed=typed_in(form),
    )


def _of_http(error: HTTPException) -> Trouble:
    if error.status_code == 404:
        return NOT_HERE
    if error.status_code == 405:
        return Trouble(405, "Not that way", "This address is not used like that.", error.headers)
    return Trouble(error.status_code, "Not done", "The request could not be understood.")


def _to_sign_in(request: Request) -> Response | None:
    """Where somebody without a sign-in is led; None when typed text would be lost on the way."""
    if request.method not in ("GET", "HEAD"):
        return None
    if "hx-request" in request.headers:
        # The page in front may show patients: leave it, do not just refuse the part.
        came_from = urlsplit(request.headers.get("hx-current-url", ""))
        back = local_path(came_from.path)
        return Response(status_code=401, headers={"HX-Redirect": _sign_in_address(back)})
    return RedirectResponse(_sign_in_address(request.url.path), status_code=303)


def _sign_in_address(back: str) -> str:
    return "/sign-in" if back == "/" else f"/sign-in?next={quote(back, safe='/')}"
