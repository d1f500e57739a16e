"""Help and the index catalogue: for everybody who is signed in, and without a patient."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.pages.catalogue_page import catalogue_page
from app.pages.elements import elements_page
from app.pages.guide_page import GUIDE, GuidePage
from app.pages.help_page import help_page
from app.pages.watch_help import watch_help
from app.rules.measured import measured
from app.web.dependencies import SignedIn
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show
from app.web.unit_policy import policy_of

router = APIRouter()


@router.get("/help")
def read(request: Request, visit: SignedIn) -> Response:
    """What this program is, and the rules behind its numbers."""
    frame = frame_for(request, "Help", links_for(request, visit))
    return show(request, "pages/help.html", help_page(frame, policy_of(visit), visit.clock))


@router.get("/help/guide")
def guide(request: Request, visit: SignedIn) -> Response:
    """Each page on one sheet: what it shows, what its numbers rest on, what is done there."""
    frame = frame_for(request, "Guide", links_for(request, visit))
    return show(request, "pages/guide.html", GuidePage(frame, GUIDE))


@router.get("/help/elements")
def elements(request: Request, visit: SignedIn) -> Response:
    """Every element in every state, for whoever changes or judges the pages."""
    frame = frame_for(request, "Elements", links_for(request, visit))
    return show(request, "pages/elements.html", elements_page(frame))


@router.get("/help/indices")
def indices(request: Request, visit: SignedIn) -> Response:
    """Every index with its formula, inputs, validity and source."""
    frame = frame_for(request, "Index catalogue", links_for(request, visit))
    return show(request, "pages/indices.html", catalogue_page(frame))


@router.get("/help/watch")
def watch(request: Request, visit: SignedIn) -> Response:
    """Every rule that raises a flag, its numbers in force, and what the rules measured."""
    frame = frame_for(request, "Rules", links_for(request, visit))
    return show(request, "pages/help_watch.html", watch_help(frame, policy_of(visit), measured()))
