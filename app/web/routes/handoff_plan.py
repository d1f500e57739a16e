"""What is left to do for a patient and what may come: written, settled, taken back."""

from collections.abc import Callable
from datetime import datetime
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from functools import partial
from typing import TypeVar

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.add_task import NewTask, add_task
from app.actions.handoff_step import StepRefused
from app.actions.settle_task import Settled, settle_task
from app.actions.write_if_then import Line, take_back_if_then, write_if_then
from app.charting.handing_over import Source, TaskState
from app.pages.flag_words import with_site_unit
from app.pages.handoff_forms import Typed
from app.pages.site_words import SiteWords
from app.pages.worries import label_of
from app.record.writing import Writing
from app.web.courses import OpenCourse, open_course
from app.web.dependencies import FormDep, NoteWriter
from app.web.errors import BadForm
from app.web.forms import Form
from app.web.identity import course_for, require_identity
from app.web.moments import MomentRefused, moment_in_form
from app.web.routes.handoff import handoff_answer
from app.web.routes.handoff_steps import key_of
from app.web.typed_labels import typed_in
from app.web.visit import Visit

router = APIRouter()
Word = TypeVar("Word", bound=StrEnum)


@router.post("/courses/{course_id}/handoff/tasks")
def add(request: Request, visit: NoteWriter, form: FormDep, course_id: str) -> Response:
    """Write down something that is left to do."""
    course = course_for(visit, course_id, form)

    def act(writing: Writing) -> None:
        task = NewTask(
            words=form.one("words", 500),
            due_at=_due(form, course, visit),
            owner=form.one("owner", 60),
            source=_one_of(Source, form.one("source", 20) or Source.PERSON.value),
        )
        add_task(writing, course_id, task, save_key=key_of(form, "task"))

    return _plan(request, visit, form, course_id, act, "todo")


@router.post("/courses/{course_id}/handoff/tasks/settle")
def settle(request: Request, visit: NoteWriter, form: FormDep, course_id: str) -> Response:
    """Say what became of a task."""
    course = course_for(visit, course_id, form)
    task_id = form.one("task", 64)

    def act(writing: Writing) -> None:
        state = _one_of(TaskState, form.one("state", 20))
        settled = Settled(task_id, state, form.one("reason", 500), _due(form, course, visit))
        settle_task(writing, course_id, settled, save_key=key_of(form, f"settle {task_id}"))

    return _plan(request, visit, form, course_id, act, "todo")


@router.post("/courses/{course_id}/handoff/if-then")
def write(request: Request, visit: NoteWriter, form: FormDep, course_id: str) -> Response:
    """Write an if-then line."""
    require_identity(visit, open_course(visit, course_id), form)

    def act(writing: Writing) -> None:
        line = _line(form, visit.site.words)
        write_if_then(writing, course_id, line, save_key=key_of(form, "if-then"))

    return _plan(request, visit, form, course_id, act, "if_then")


@router.post("/courses/{course_id}/handoff/if-then/take-back")
def take_back(request: Request, visit: NoteWriter, form: FormDep, course_id: str) -> Response:
    """Take an if-then line back; it stays in the record."""
    require_identity(visit, open_course(visit, course_id), form)
    act = partial(take_back_if_then, course_id=course_id, line_id=form.one("line", 64))
    return _plan(request, visit, form, course_id, act, "if_then")


def _plan(
    request: Request,
    visit: Visit,
    form: Form,
    course_id: str,
    act: Callable[[Writing], None],
    part: str,
) -> Response:
    try:
        with visit.writing() as writing:
            act(writing)
    except StepRefused as refused:
        typed = Typed(error=str(refused), beside=typed_in(form))
        return handoff_answer(request, visit, course_id, typed, 422)
    return RedirectResponse(f"/courses/{course_id}/handoff#head-{part}", status_code=303)


def _due(form: Form, course: OpenCourse, visit: Visit) -> datetime | None:
    text = form.one("due_at", 40)
    if not text:
        return None
    try:
        return moment_in_form(text, course.judge.clock, visit.now)
    except MomentRefused as refused:
        raise StepRefused(str(refused)) from refused


def _one_of(kind: type[Word], text: str) -> Word:
    try:
        return kind(text)
    except ValueError:
        raise BadForm("it holds a choice that no page offers") from None


def _line(form: Form, words: SiteWords) -> Line:
    key, side, end = _offered(form.one("offered", 80))
    minutes = form.one("within_min", 10)
    return Line(
        measure=label_of(key) if key else form.one("measure", 80),
        comparison=side or form.one("comparison", 20),
        value=with_site_unit(key, end, words) if key else form.one("value", 40),
        lasting=form.one("lasting", 40),
        action=form.one("agreed", 500),
        call=form.one("call", 80),
        within_min=_minutes(minutes) if minutes else None,
        tried=form.one("tried", 300),
        limit_key=key,
    )


def _offered(text: str) -> tuple[str, str, str]:
    parts = text.split(" ")
    return (parts[0], parts[1], parts[2]) if len(parts) == 3 else ("", "", "")


def _minutes(text: str) -> Decimal:
    try:
        minutes = Decimal(text)
    except InvalidOperation:
        raise StepRefused("Write the minutes as a number.") from None
    if not minutes.is_finite() or not 0 < minutes < 1440:
        raise StepRefused("Write the minutes as a number between 1 and 1440.")
    return minutes
