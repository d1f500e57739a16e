"""The board, and the part of it that refreshes itself."""

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.web.board import board_now, board_version
from app.web.dependencies import Reader, Watcher
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show
from app.web.told import telling

router = APIRouter()


@router.get("/")
def board(request: Request, visit: Reader) -> Response:
    """One row per bed."""
    frame = telling(frame_for(request, "Board", links_for(request, visit)), visit)
    return show(request, "pages/board.html", board_now(frame, visit))


@router.get("/board/rows")
def rows(request: Request, visit: Watcher, version: str = "") -> Response:
    """The rows again if anything on them would look different, else 304 before any rendering."""
    if version and version == board_version(visit):
        return Response(status_code=304)
    page = board_now(frame_for(request, "Board", links_for(request, visit)), visit)
    return show(request, "parts/_board.html", page)
