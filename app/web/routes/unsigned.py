"""Drafts that nobody has signed: their list, one of them, its signature, its end."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.co_sign import AlreadySigned, OwnDraft, SignatureHeldUp, co_sign
from app.actions.give_reason import ReasonRefused
from app.actions.permissions import Act, may
from app.actions.strike_draft import AnothersDraft, strike_draft
from app.pages.unsigned import unsigned_page
from app.web.courses import note_view, open_course
from app.web.dependencies import CoSigner, Drafter, FormDep, Reader
from app.web.errors import MayNot
from app.web.frame import frame_for
from app.web.identity import course_for
from app.web.navigation import links_for
from app.web.show import show
from app.web.unsigned import draft_answer, find_draft, listed_drafts, signer_of

router = APIRouter()


@router.get("/drafts")
def drafts(request: Request, visit: Drafter) -> Response:
    """What waits for a signature: all of it for who may sign, their own for others."""
    may_sign = may(visit.person.role, Act.CO_SIGN)
    listed = listed_drafts(visit, None if may_sign else visit.person.id)
    frame = frame_for(request, "Unsigned drafts", links_for(request, visit))
    page = unsigned_page(frame, listed, may_sign=may_sign, clock=visit.clock, now=visit.now)
    return show(request, "pages/unsigned.html", page)


@router.get("/courses/{course_id}/drafts/{draft_id}")
def draft(request: Request, visit: Reader, course_id: str, draft_id: str) -> Response:
    """One draft with every value; what is none any more leads to the bed."""
    course = open_course(visit, course_id)
    row = find_draft(course.facts, draft_id)
    if row is None:
        return RedirectResponse(f"/courses/{course_id}", status_code=303)
    note_view(visit, course_id)
    return draft_answer(request, visit, course, row, signer_of(visit))


@router.post("/courses/{course_id}/drafts/{draft_id}/sign")
def sign(
    request: Request, visit: CoSigner, form: FormDep, course_id: str, draft_id: str
) -> Response:
    """Sign beside its author, or show again what has to be answered first."""
    course = course_for(visit, course_id, form)
    accepted = frozenset(form.several("accept"))
    bed = RedirectResponse(f"/courses/{course_id}", status_code=303)
    try:
        with visit.writing() as writing:
            co_sign(writing, course_id, draft_id, seen=form.one("seen", 64), accepted=accepted)
    except AlreadySigned:
        return bed
    except OwnDraft:
        raise MayNot(visit.role_name, "sign beside themselves") from None
    except SignatureHeldUp:
        row = find_draft(course.facts, draft_id)
        signer = signer_of(visit, accepted=accepted)
        return draft_answer(request, visit, course, row, signer, 422) if row else bed
    return bed


@router.post("/courses/{course_id}/drafts/{draft_id}/strike")
def strike(
    request: Request, visit: Drafter, form: FormDep, course_id: str, draft_id: str
) -> Response:
    """Strike one's own draft, or anybody's for who may correct the chart."""
    course = course_for(visit, course_id, form)
    anybodys, reason = may(visit.person.role, Act.CORRECT), form.one("reason")
    bed = RedirectResponse(f"/courses/{course_id}", status_code=303)
    try:
        with visit.writing() as writing:
            strike_draft(writing, course_id, draft_id, reason, anybodys=anybodys)
    except AlreadySigned:
        return bed
    except AnothersDraft:
        raise MayNot(visit.role_name, "strike another's draft") from None
    except ReasonRefused as refused:
        row = find_draft(course.facts, draft_id)
        signer = signer_of(visit, strike_typed=reason, strike_error=str(refused))
        return draft_answer(request, visit, course, row, signer, 422) if row else bed
    return bed
