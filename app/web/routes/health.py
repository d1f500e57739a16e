"""Two questions of whoever runs the server: does it live, and can it serve."""

from fastapi import APIRouter
from starlette.responses import PlainTextResponse

from app.record.errors import NotReadable
from app.web.first_run import missing_from
from app.web.site import Site, SiteDep

router = APIRouter()


@router.get("/healthz/live")
async def live() -> PlainTextResponse:
    """The process answers; nothing else is asked."""
    return PlainTextResponse("alive\n")


@router.get("/healthz/ready")
def ready(site: SiteDep) -> PlainTextResponse:
    """The record can be read, has this version's schema, a unit, and somebody who can sign in."""
    reasons = _why_not(site)
    words = ["not ready" if reasons else "ready", *reasons]
    return PlainTextResponse("\n".join([*words, ""]), status_code=503 if reasons else 200)


def _why_not(site: Site) -> list[str]:
    try:
        missing = missing_from(site.database)
    except NotReadable as error:
        return [f"The record cannot be read: {error.why}."]
    return [f"{lack.words} {lack.command}" for lack in missing]
