"""The flags of one cause, opened and answered: seen with a plan, muted, no longer muted."""

from datetime import UTC, datetime, timedelta
from functools import partial

from fastapi import APIRouter, Request
from msgspec import Struct
from msgspec.structs import replace
from starlette.responses import RedirectResponse, Response

from app.actions.answer_flags import Answer, answer_flags
from app.actions.handoff_step import StepRefused
from app.actions.permissions import Act, may
from app.charting.answering import Said
from app.pages.as_of import staying_at
from app.pages.flag_words import GROUP_WORDS
from app.pages.flags import Answering, flags_page
from app.record.errors import NotFound
from app.rules.uncorrected import by_correction
from app.web.as_of import as_of_in
from app.web.check_form import new_save_key
from app.web.courses import note_view, open_course
from app.web.dependencies import FormDep, NoteWriter, Reader
from app.web.errors import BadForm
from app.web.forms import Form
from app.web.frame import frame_for
from app.web.identity import require_identity
from app.web.navigation import links_for
from app.web.routes.handoff_steps import key_of
from app.web.show import show
from app.web.told import telling
from app.web.typed_labels import Typed, typed_in
from app.web.visit import Visit

router = APIRouter()


class Refused(Struct, frozen=True):
    """Why an answer was not kept, and what was typed into it."""

    words: str = ""
    typed: Typed = ()


@router.get("/courses/{course_id}/flags/{group}")
def opened(
    request: Request, visit: Reader, course_id: str, group: str, as_of: str = ""
) -> Response:
    """What raised the flags of a cause, what would clear them, and what happened to them."""
    moment = as_of_in(as_of, visit.now)
    note_view(visit, course_id)
    return _page(request, visit, course_id, group, as_of=moment)


@router.post("/courses/{course_id}/flags/{group}")
def answer(
    request: Request, visit: NoteWriter, form: FormDep, course_id: str, group: str
) -> Response:
    """Say that they were seen, mute them, or take a mute back."""
    require_identity(visit, open_course(visit, course_id), form)
    act = partial(answer_flags, course_id=course_id, answer=_answer(form, group))
    try:
        with visit.writing() as writing:
            act(writing, save_key=key_of(form, f"flags {group}"))
    except StepRefused as refused:
        return _page(request, visit, course_id, group, Refused(str(refused), typed_in(form)))
    return RedirectResponse(f"/courses/{course_id}/flags/{group}", status_code=303)


def _page(
    request: Request,
    visit: Visit,
    course_id: str,
    group: str,
    refused: Refused | None = None,
    as_of: datetime | None = None,
) -> Response:
    if group not in GROUP_WORDS:
        raise NotFound("cause", group)
    course = open_course(visit, course_id, as_of)
    judge = course.judge
    watched = judge.watching.look(course.facts, judge.policy).watched
    flags = [flag for flag in watched.flags if flag.raised_at <= (as_of or visit.now)]
    policies = judge.watching.policies
    answering = None
    writes = as_of is None and may(visit.person.role, Act.WRITE_NOTES)
    if writes and course.facts.ended_at is None:
        answering = Answering(new_save_key(), visit.person.display_name)
    frame = course.frame(telling(frame_for(request, "Flags", links_for(request, visit)), visit))
    held = refused or Refused()
    page = flags_page(
        replace(frame, unsaved=held.typed),
        course.known(visit),
        group,
        flags,
        by_correction(course.facts, flags, policies, as_of or visit.now),
        answering,
        held.words,
    )
    status = 422 if refused else 200
    return show(request, "pages/flags.html", staying_at(page, as_of), status)


def _answer(form: Form, group: str) -> Answer:
    try:
        said, raised = Said(form.one("said", 20)), datetime.fromisoformat(form.one("raised", 40))
        hours = int(form.one("hours", 3) or 0)
    except ValueError:
        raise BadForm("it holds a choice that no page offers") from None
    return Answer(
        group=group,
        said=said,
        rules=tuple(form.one("rules", 2000).split()),
        last_raised=raised.astimezone(UTC),
        words=form.one("reason" if said is Said.MUTED else "plan", 500),
        owner=form.one("owner", 80),
        lasting=timedelta(hours=hours) if hours else None,
    )
