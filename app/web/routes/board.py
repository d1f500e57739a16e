"""The board, and the part of it that refreshes itself."""

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from app.web.board import board_now, board_version, version_kept
from app.web.dependencies import Reader, memory_of, watching_patients
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show
from app.web.told import telling
from app.web.visit import Visit

router = APIRouter()


@router.get("/")
def board(request: Request, visit: Reader) -> Response:
    """One row per bed."""
    frame = telling(frame_for(request, "Board", links_for(request, visit)), visit)
    return show(request, "pages/board.html", board_now(frame, visit, memory_of(request)))


async def rows(request: Request) -> Response:
    """The rows again if anything on them would look different, else 304 before any rendering.

    What every open board asks every few seconds is answered here, without waiting for a thread,
    while nothing was written; whatever has to be read or drawn goes to one.
    """
    visit, version = await watching_patients(request), request.query_params.get("version", "")
    if version and version == version_kept(visit, memory_of(request)):
        return Response(status_code=304)
    return await run_in_threadpool(_rows_anew, request, visit, version)


# A plain route, which asks who calls it by itself: to solve a signature costs as much again.
router.add_route("/board/rows", rows, methods=["GET"])


def _rows_anew(request: Request, visit: Visit, version: str) -> Response:
    memory = memory_of(request)
    if version and version == board_version(visit, memory):
        return Response(status_code=304)
    frame = frame_for(request, "Board", links_for(request, visit))
    return show(request, "parts/_board.html", board_now(frame, visit, memory))
