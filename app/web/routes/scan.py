"""The lead's scan, and the question whether the unit has changed since it was read."""

from bisect import bisect_right
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from app.pages.scan import Asked, asked_for, scan_page
from app.pages.scan_page import ScanNews, ScanPage
from app.web.board import Board, board_of
from app.web.dependencies import Reader, Watcher, memory_of
from app.web.frame import frame_for
from app.web.kept import Memory
from app.web.navigation import links_for
from app.web.shift_plan import plan_now
from app.web.show import show
from app.web.visit import Visit

router = APIRouter()


@router.get("/scan")
def scan(
    request: Request,
    visit: Reader,
    shown: Annotated[str, Query(alias="show")] = "",
    order: str = "",
    view: str = "",
) -> Response:
    """Beds in order of worry, what is open, who has how much; or a view for the corridor."""
    asked = asked_for(shown, order, view)
    return show(request, "pages/scan.html", _scan(request, visit, asked))


@router.get("/scan/news")
def news(
    request: Request,
    visit: Watcher,
    version: str = "",
    shown: Annotated[str, Query(alias="show")] = "",
    order: str = "",
    view: str = "",
) -> Response:
    """A line that offers the page anew where it would look different, else 304.

    Nothing moves under somebody who reads: they ask for the new order themselves.
    """
    memory = memory_of(request)
    if version == _version(visit, memory, board_of(visit, memory)):
        return Response(status_code=304)
    offer = ScanNews(asked_for(shown, order, view).href())
    return show(request, "parts/_scan_news.html", offer)


def _scan(request: Request, visit: Visit, asked: Asked) -> ScanPage:
    memory = memory_of(request)
    board = board_of(visit, memory)
    return scan_page(
        frame_for(request, "Scan", links_for(request, visit)),
        [kept.bed for kept in board.beds],
        asked,
        clock=visit.clock,
        now=visit.now,
        version=_version(visit, memory, board),
        plan=plan_now(visit, memory),
        words=visit.site.words,
    )


def _version(visit: Visit, memory: Memory, board: Board) -> str:
    """What the scan is called for this viewer now: its beds, and the plan beside them."""
    plan = plan_now(visit, memory)
    return f"{board.version(visit)}-{bisect_right(sorted(plan.edges()), visit.now)}-{plan.mark}"
