"""Two questions of whoever runs the server: does it live, and can it serve."""

from fastapi import APIRouter
from starlette.responses import PlainTextResponse

from app.record.errors import NotReadable
from app.record.migrate import is_current
from app.web.site import SiteDep

router = APIRouter()


@router.get("/healthz/live")
async def live() -> PlainTextResponse:
    """The process answers; nothing else is asked."""
    return PlainTextResponse("alive\n")


@router.get("/healthz/ready")
def ready(site: SiteDep) -> PlainTextResponse:
    """The record can be read and has this version's schema."""
    try:
        is_ready = is_current(site.database)
    except NotReadable:
        is_ready = False
    return PlainTextResponse(
        "ready\n" if is_ready else "not ready\n", status_code=200 if is_ready else 503
    )
