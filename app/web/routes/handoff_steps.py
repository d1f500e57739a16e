"""The steps of a handoff: offer, accept, return, answer, take back, take over, add late, seen."""

from collections.abc import Callable
from functools import partial

from fastapi import APIRouter, Request
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.accept_handoff import Acceptance, accept_handoff
from app.actions.add_late_words import add_late_words
from app.actions.answer_question import answer_question
from app.actions.handoff_step import StepRefused
from app.actions.offer_handoff import Offer, offer_handoff
from app.actions.return_handoff import return_handoff
from app.actions.see_late_items import see_late_items
from app.actions.take_over import take_over
from app.actions.withdraw_offer import withdraw_offer
from app.pages.handoff_forms import Typed
from app.record.writing import Writing
from app.web.courses import open_course
from app.web.dependencies import FormDep, Offerer
from app.web.errors import BadForm
from app.web.forms import Form
from app.web.handoffs import drawing
from app.web.identity import require_identity
from app.web.routes.handoff import handoff_answer
from app.web.typed_labels import typed_in
from app.web.visit import Visit

router = APIRouter()
LONGEST_KEY = 64

Say = Callable[..., str]


@router.post("/courses/{course_id}/handoff/offer")
def offer(request: Request, visit: Offerer, form: FormDep, course_id: str) -> Response:
    """Freeze the page and put it on offer."""
    require_identity(visit, open_course(visit, course_id), form, covering=False)
    offered = Offer(form.one("to", 64), form.one("level", 10), form.one("reason", 2000))
    act = partial(
        offer_handoff,
        course_id=course_id,
        offer=offered,
        draw=drawing(visit.site.pages, visit.site.words),
        save_key=key_of(form, "offer"),
    )
    typed = Typed(level=offered.level, reason=offered.reason, to_id=offered.to_id)
    return _step(request, visit, course_id, act, typed, f"/handoffs?done={course_id}")


@router.post("/courses/{course_id}/handoff/accept")
def accept(request: Request, visit: Offerer, form: FormDep, course_id: str) -> Response:
    """Take the bed, once everything that changed was seen."""
    version = form.one("version", 10)
    if not version.isascii() or not version.isdigit():
        raise BadForm("it names no version")
    acceptance = Acceptance(
        version=int(version),
        restated=form.one("restated", 2000),
        ticked=bool(form.one("ticked", 10)),
        seen=frozenset(form.several("seen")),
    )
    key = key_of(form, "accept")
    act = partial(accept_handoff, course_id=course_id, acceptance=acceptance, save_key=key)
    typed = Typed(restated=acceptance.restated, seen=acceptance.seen)
    return _step(request, visit, course_id, act, typed, f"/handoffs?done={course_id}")


@router.post("/courses/{course_id}/handoff/return")
def give_back(request: Request, visit: Offerer, form: FormDep, course_id: str) -> Response:
    """Return an offer with a question."""
    return _say(request, visit, form, course_id, "return", return_handoff)


@router.post("/courses/{course_id}/handoff/answer")
def answer(request: Request, visit: Offerer, form: FormDep, course_id: str) -> Response:
    """Answer the question; the offer stands again."""
    return _say(request, visit, form, course_id, "answer", answer_question)


@router.post("/courses/{course_id}/handoff/take")
def take(request: Request, visit: Offerer, form: FormDep, course_id: str) -> Response:
    """Take a bed that nobody has, or as a lead one that nobody came for."""
    return _say(request, visit, form, course_id, "take", take_over)


@router.post("/courses/{course_id}/handoff/late")
def add_late(request: Request, visit: Offerer, form: FormDep, course_id: str) -> Response:
    """Add what came late for whoever has the bed."""
    return _say(request, visit, form, course_id, "late", add_late_words)


@router.post("/courses/{course_id}/handoff/withdraw")
def withdraw(request: Request, visit: Offerer, form: FormDep, course_id: str) -> Response:
    """Take an offer back."""
    act = partial(withdraw_offer, course_id=course_id, save_key=key_of(form, "withdraw"))
    return _step(request, visit, course_id, act, Typed())


@router.post("/courses/{course_id}/handoff/seen")
def seen(request: Request, visit: Offerer, form: FormDep, course_id: str) -> Response:
    """Keep that this person has seen what came late."""
    act = partial(see_late_items, course_id=course_id, seen=frozenset(form.several("seen")))
    return _step(request, visit, course_id, act, Typed())


def key_of(form: Form, what: str) -> str:
    """The key of one form of a page: the page's own, and which of its forms it is."""
    sent = form.one("save_key", LONGEST_KEY)
    return f"{what}:{sent}" if sent else ""


def _say(
    request: Request, visit: Visit, form: Form, course_id: str, what: str, say: Say
) -> Response:
    words = form.one("words", 2000)
    act = partial(say, course_id=course_id, words=words, save_key=key_of(form, what))
    return _step(request, visit, course_id, act, Typed(words={what: words}, beside=typed_in(form)))


def _step(
    request: Request,
    visit: Visit,
    course_id: str,
    act: Callable[[Writing], object],
    typed: Typed,
    then: str = "",
) -> Response:
    """Take the step, or show the page again with why not and every word still in it."""
    open_course(visit, course_id)
    try:
        with visit.writing() as writing:
            act(writing)
    except StepRefused as refused:
        back = replace(typed, error=str(refused))
        return handoff_answer(request, visit, course_id, back, 422)
    return RedirectResponse(then or f"/courses/{course_id}/handoff", status_code=303)
