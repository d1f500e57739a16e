"""The round of handoffs and its refresh, and the frozen pages of offers."""

import json

from fastapi import APIRouter, Request
from markupsafe import Markup
from starlette.responses import Response

from app.pages.frame import NavLink
from app.pages.handoff_page import KeptPage
from app.pages.handoff_round import round_page
from app.pages.handoff_round_page import RoundPage
from app.pages.saved_words import handed_words
from app.record.handoffs import Kept, kept_snapshot
from app.web.board import board_of, board_version
from app.web.courses import note_view, open_course
from app.web.dependencies import Reader, VersionInAddress, Watcher, memory_of
from app.web.frame import frame_for
from app.web.handoffs import late_counts, person_of
from app.web.navigation import links_for
from app.web.shift_plan import plan_coming
from app.web.show import show
from app.web.visit import Visit

router = APIRouter()


@router.get("/handoffs")
def handoffs(request: Request, visit: Reader, order: str = "", done: str = "") -> Response:
    """Every bed of the unit with where its handoff stands, worst first."""
    return show(request, "pages/handoff_round.html", _round(request, visit, order, done))


@router.get("/handoffs/rows")
def rows(request: Request, visit: Watcher, version: str = "", order: str = "") -> Response:
    """The rows again if anything on them would look different, else 304."""
    if version and version == _version(request, visit):
        return Response(status_code=304)
    return show(request, "parts/_round.html", _round(request, visit, order))


@router.get("/courses/{course_id}/handoffs/{version}")
def kept(request: Request, visit: Reader, course_id: str, version: VersionInAddress) -> Response:
    """What an offer froze, as it was then, whatever has changed since."""
    course = open_course(visit, course_id)
    found = _kept(visit, course_id, version)
    note_view(visit, course_id)
    page = KeptPage(
        frame=frame_for(request, "Offered handoff", links_for(request, visit)),
        banner=course.banner(visit),
        heading=f"As offered: version {version}",
        fragment=Markup(json.loads(found.text)["fragment"]),  # noqa: S704 - our own, by its hash
        hash_words=_hash_words(found),
        ways=(
            NavLink("The handoff now", f"/courses/{course_id}/handoff"),
            NavLink("The stored text", f"/courses/{course_id}/handoffs/{version}/stored"),
        ),
    )
    return show(request, "pages/kept_handoff.html", page)


@router.get("/courses/{course_id}/handoffs/{version}/stored")
def stored(visit: Reader, course_id: str, version: VersionInAddress) -> Response:
    """The stored bytes themselves, for whoever checks their hash."""
    open_course(visit, course_id)
    found = _kept(visit, course_id, version)
    note_view(visit, course_id)
    return Response(found.text.encode(), media_type="application/json")


def _kept(visit: Visit, course_id: str, version: int) -> Kept:
    with visit.reading() as session:
        return kept_snapshot(session, course_id, version)


def _hash_words(found: Kept) -> str:
    if found.whole:
        return f"SHA-256 {found.sha256}"
    return (
        "The stored text is not what was frozen: its hash does not fit. Tell who runs the server."
    )


def _version(request: Request, visit: Visit) -> str:
    """What the round is called for this viewer now: its beds, and the plan of the coming shift."""
    memory = memory_of(request)
    plan = plan_coming(visit, memory)
    return f"{board_version(visit, memory)}-{plan.starts_at:%d%H}{plan.mark}"


def _round(request: Request, visit: Visit, order: str, done: str = "") -> RoundPage:
    board = board_of(visit, memory_of(request))
    beds = [kept.bed for kept in board.beds if kept.bed.summary is not None]
    told = {bed.code: (bed.course_id, bed.summary.handoff) for bed in beds if bed.summary}
    with visit.reading() as session:
        late = late_counts(session, told, person_of(visit))
    said = handed_words(beds, done, visit.person.id, visit.now, visit.clock)
    return round_page(
        frame_for(request, "Handoffs", links_for(request, visit), said=said),
        beds,
        late,
        reader_id=visit.person.id,
        clock=visit.clock,
        now=visit.now,
        version=_version(request, visit),
        plan=plan_coming(visit, memory_of(request)),
        in_bed_order=order == "bed",
    )
