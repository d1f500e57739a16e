"""The demo's stories, in the demo only."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.pages.stories_page import stories_page
from app.record.errors import NotFound
from app.web.dependencies import Reader
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show
from app.web.site import SiteDep

router = APIRouter()


@router.get("/demo/stories")
def stories(request: Request, visit: Reader, site: SiteDep) -> Response:
    """What is told of each bed; outside the demo there is no such page."""
    if not site.stories:
        raise NotFound("page", "stories")
    frame = frame_for(request, "Stories", links_for(request, visit))
    return show(request, "pages/stories.html", stories_page(frame, site.stories))
