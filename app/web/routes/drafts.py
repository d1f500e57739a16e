"""What is typed into a check and not saved: kept as it is typed, and thrown away."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.keep_draft import DraftTooLong, keep_draft
from app.pages.drafts import DraftSaid
from app.pages.times import when_in
from app.record.drafts import drop_draft
from app.web.check_form import kind_in, sheet_of
from app.web.courses import course_here
from app.web.dependencies import ChartWatcher, Drafter, FormDep
from app.web.drafts import draft_of, holds_anything
from app.web.errors import BadForm
from app.web.show import show
from app.web.visit import Visit

router = APIRouter()


@router.post("/courses/{course_id}/assess/draft")
def keep(request: Request, visit: ChartWatcher, form: FormDep, course_id: str) -> Response:
    """Keep the form as it stands. The page asks for this by itself: it is no sign of life."""
    course_here(visit, course_id)
    sheet = sheet_of(form, visit, visit.clock)
    if not holds_anything(sheet):
        _forget(visit, course_id, sheet.check.kind.value)
        return show(request, "parts/_draft_said.html", DraftSaid(None))
    draft = draft_of(form, visit, course_id, sheet.check.kind)
    try:
        with visit.working() as session:
            is_kept = keep_draft(session, visit.person.id, draft, sheet.save_key)
    except DraftTooLong:
        raise BadForm("it is longer than any check") from None
    when = when_in(visit.now, visit.now, visit.clock) if is_kept else None
    return show(request, "parts/_draft_said.html", DraftSaid(when))


@router.post("/courses/{course_id}/assess/draft/discard")
def discard(visit: Drafter, form: FormDep, course_id: str) -> Response:
    """Forget the draft, and lead to an empty form."""
    course_here(visit, course_id)
    kind = kind_in(form.one("kind", 20)).value
    _forget(visit, course_id, kind)
    return RedirectResponse(f"/courses/{course_id}/assess?kind={kind}", status_code=303)


def _forget(visit: Visit, course_id: str, kind: str) -> None:
    with visit.working() as session:
        drop_draft(session, visit.person.id, course_id, kind)
