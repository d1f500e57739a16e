"""Find a course by record number, among those that ended, or by a shift's handoffs."""

from datetime import datetime

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.actions.note_search import note_search
from app.pages.find_page import (
    ENDED_WITHIN,
    FindPage,
    found_lines,
    number_name,
    shift_links,
    shift_words,
    step_lines,
)
from app.record.beds import occupants, unit_beds
from app.record.courses import Course
from app.record.finding import courses_by_number, ended_courses, steps_between
from app.web.as_of import as_of_in
from app.web.dependencies import FormDep, Reader
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.show import show
from app.web.visit import Visit

router = APIRouter()

LONGEST = 60


@router.get("/find")
def find(request: Request, visit: Reader, shift: str = "") -> Response:
    """The form, the courses that ended in the last weeks, and the handoffs of one shift."""
    asked = as_of_in(shift, visit.now) or visit.now
    return _answer(request, visit, visit.clock.shift_start(asked))


@router.post("/find")
def by_number(request: Request, visit: Reader, form: FormDep) -> Response:
    """Look for exactly this record number; it stands in no address and no line of the log."""
    number = form.one("number", LONGEST)
    with visit.reading() as session:
        found = courses_by_number(session, visit.unit.id, number) if number else ()
    with visit.writing() as writing:
        note_search(writing, [course.id for course in found])
    start = visit.clock.shift_start(visit.now)
    return _answer(request, visit, start, found, "Nobody has exactly this number here.")


def _answer(
    request: Request,
    visit: Visit,
    start: datetime,
    found: tuple[Course, ...] = (),
    none_words: str = "",
) -> Response:
    now, clock, unit = visit.now, visit.clock, visit.unit.id
    with visit.reading() as session:
        codes = {bed.id: bed.code for bed in unit_beds(session, unit)}
        beds = {key: codes[bed] for bed, key in occupants(session, unit).items()}
        ended = ended_courses(session, unit, now - ENDED_WITHIN)
        steps = steps_between(session, unit, start, clock.shift_end(start))
    page = FindPage(
        frame=frame_for(request, "Find", links_for(request, visit)),
        number_name=number_name(visit.site.words),
        found=found_lines(found, beds, now, clock),
        found_words="" if found else none_words,
        ended=found_lines(ended, beds, now, clock),
        shift=shift_words(start, clock),
        steps=step_lines(steps, beds, now, clock),
        shifts=shift_links(start, now, clock),
    )
    return show(request, "pages/find.html", page)
