"""Hours on paper: files written on demand, and the span that a lead records afterwards."""

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from app.actions.record_outage import OutageRefused, record_outage
from app.web.dependencies import FormDep, LeadOnly
from app.web.moments import MomentRefused, moment_in_form
from app.web.outage_hourly import write_now
from app.web.routes.printing import print_answer

router = APIRouter()


@router.post("/outage/write")
def write(request: Request, visit: LeadOnly, form: FormDep) -> Response:  # noqa: ARG001 - proven
    """Write a set of files now."""
    written = write_now(visit.site, visit.person.id, visit.workstation)
    if written is None:
        words = "The files could not be written; the server's log says why."
        return print_answer(request, visit, error=words, status=503)
    return RedirectResponse("/print#outage", status_code=303)


@router.post("/outage/spans")
def record(request: Request, visit: LeadOnly, form: FormDep) -> Response:
    """Record from when to when the unit worked on paper."""
    try:
        start, end = (
            moment_in_form(
                form.one(f"{end}_at", 40), visit.clock, visit.now, form.one(f"{end}_which", 10)
            )
            for end in ("from", "to")
        )
        with visit.writing() as writing:
            record_outage(writing, visit.unit.id, start, end, form.one("words", 400))
    except (MomentRefused, OutageRefused) as refused:
        typed = {name: form.one(name, 400) for name in ("from_at", "to_at", "words")}
        return print_answer(request, visit, error=str(refused), status=422, typed=typed)
    return RedirectResponse("/print#outage", status_code=303)
