"""Sign out."""

import structlog
from fastapi import APIRouter
from starlette.responses import RedirectResponse

from app.actions.sign_out import sign_out
from app.record.errors import NotWritable
from app.web.dependencies import SignedIn
from app.web.site import SiteDep

router = APIRouter()
log = structlog.get_logger("leeboard.visits")


@router.post("/sign-out")
def leave(visit: SignedIn, site: SiteDep) -> RedirectResponse:
    """End the session and take the cookie back, the cookie even when the record cannot be written.

    The next person at this screen must not find somebody else signed in; the session itself then
    ends by its idle time.
    """
    try:
        with visit.writing() as writing:
            sign_out(writing, visit.token)
    except NotWritable as error:
        site.health.refused(error.why)
        log.warning("sign_out_not_kept", why=error.why)
    answer = RedirectResponse("/sign-in", status_code=303)
    site.cookies.take_back(answer, site.cookies.session)
    return answer
