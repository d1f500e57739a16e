"""My beds, the next two hours: where a therapist begins, and its refresh."""

from bisect import bisect_right

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.pages.board import BoardBed
from app.pages.mine import edges_of, mine_page
from app.pages.mine_page import MinePage
from app.web.board import board_of
from app.web.dependencies import Reader, Watcher, memory_of
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.shift_plan import plan_now
from app.web.show import show
from app.web.told import telling
from app.web.visit import Visit

router = APIRouter()


@router.get("/mine")
def mine(request: Request, visit: Reader) -> Response:
    """The beds that this person has, and what is due there."""
    return show(request, "pages/mine.html", _mine(request, visit))


@router.get("/mine/rows")
def rows(request: Request, visit: Watcher, version: str = "") -> Response:
    """The rows again if anything on them would look different, else 304."""
    beds = _beds(request, visit)
    if version and version == _version(request, visit, beds):
        return Response(status_code=304)
    return show(request, "parts/_mine.html", _mine(request, visit))


def _beds(request: Request, visit: Visit) -> list[BoardBed]:
    return [kept.bed for kept in board_of(visit, memory_of(request)).beds]


def _version(request: Request, visit: Visit, beds: list[BoardBed]) -> str:
    memory = memory_of(request)
    plan = plan_now(visit, memory)
    edges = edges_of(beds, visit.person.id, plan)
    board = board_of(visit, memory).version(visit)
    return f"{board}-{bisect_right(edges, visit.now)}-{plan.mark}"


def _mine(request: Request, visit: Visit) -> MinePage:
    beds = _beds(request, visit)
    return mine_page(
        telling(frame_for(request, "My beds", links_for(request, visit)), visit),
        beds,
        reader_id=visit.person.id,
        clock=visit.clock,
        now=visit.now,
        version=_version(request, visit, beds),
        words=visit.site.words,
        plan=plan_now(visit, memory_of(request)),
    )
