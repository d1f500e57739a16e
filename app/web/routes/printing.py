"""Paper: one bed, somebody's beds, the unit, and blank forms; every print is in the audit."""

from collections.abc import Mapping, Sequence

from fastapi import APIRouter, Request
from starlette.responses import Response

from app.actions.note_print import note_print
from app.actions.permissions import Act, may
from app.charting.mode_families import MODE_FAMILIES
from app.pages.blank_sheet import blank_page
from app.pages.known import Known
from app.pages.print_page import PrintPage, print_links
from app.pages.sheets import Made, sheets_page
from app.pages.times import full_time
from app.record.beds import occupants, unit_beds
from app.rules.shift_plan import Plan
from app.web.assets import static_url
from app.web.courses import course_here
from app.web.dependencies import Reader
from app.web.frame import frame_for
from app.web.navigation import links_for
from app.web.outage_files import newest_set
from app.web.outages import told_outages
from app.web.sheets import in_beds, known_of, paper_in, styles_for
from app.web.show import show
from app.web.visit import Visit

router = APIRouter()


@router.get("/print")
def choose(request: Request, visit: Reader, paper: str = "") -> Response:
    """What to print, and on which paper."""
    return print_answer(request, visit, paper_in(paper))


@router.get("/print/sheets")
def sheets(request: Request, visit: Reader, of: str = "unit", paper: str = "") -> Response:
    """The handoffs of the unit, of whoever asks, or of one patient, each on its own sheets."""
    heading, courses, empty, plan = _chosen(visit, of)
    with visit.writing() as writing:
        note_print(writing, [course.facts.course_id for course in courses], "handoff")
    page = sheets_page(_made(visit, paper_in(paper)), heading, courses, empty, plan)
    return show(request, "print/sheets.html", page)


@router.get("/print/blank")
def blank(request: Request, visit: Reader, family: str = "", paper: str = "") -> Response:
    """Forms to be filled in by hand, in the order of the screen."""
    families = (family,) if family in MODE_FAMILIES else ()
    with visit.writing() as writing:
        note_print(writing, (), "blank")
    made = _made(visit, paper_in(paper))
    return show(request, "print/blank.html", blank_page(made, families, visit.site.words))


Chosen = tuple[str, tuple[Known, ...], tuple[str, ...], Plan | None]


def _chosen(visit: Visit, of: str) -> Chosen:
    """What the address asks for: its heading, the patients, beds with nobody in them, the plan."""
    if of not in ("unit", "mine"):
        course_here(visit, of)
        with visit.reading() as session:
            one = known_of(session, visit.unit.id, [of], visit.now, visit.site.words)
        return "Handoff", one, (), None
    with visit.reading() as session:
        found = in_beds(session, visit.unit.id, visit.now, visit.site.words)
    if of == "mine":
        return "Handoff of my beds", _mine(visit, found.courses), (), found.plan
    return "Unit handoff", found.courses, found.empty, found.plan


def _mine(visit: Visit, courses: Sequence[Known]) -> tuple[Known, ...]:
    """The patients whom this person has by acceptance."""
    return tuple(c for c in courses if c.summary.handoff.holder_id == visit.person.id)


def _made(visit: Visit, paper: str) -> Made:
    return Made(
        at=visit.now,
        clock=visit.clock,
        unit_name=visit.unit.name,
        styles=styles_for(paper, static_url),
        by=visit.person.display_name,
        back_href=f"/print?paper={paper}",
    )


def print_answer(
    request: Request,
    visit: Visit,
    paper: str = "a4",
    *,
    error: str = "",
    status: int = 200,
    typed: Mapping[str, str] | None = None,
) -> Response:
    """The page of choices, with what lies ready for hours without the program."""
    with visit.reading() as session:
        taken = occupants(session, visit.unit.id)
        beds = [(b.code, taken[b.id]) for b in unit_beds(session, visit.unit.id) if b.id in taken]
    newest = newest_set(visit.site.settings.outage_folder)
    page = PrintPage(
        frame=frame_for(request, "Print", links_for(request, visit)),
        links=print_links(paper, beds),
        leads=may(visit.person.role, Act.SET_POLICY),
        kept=full_time(newest, visit.clock) if newest else None,
        outages=told_outages(visit),
        zone=visit.clock.zone,
        error=error,
        twice=visit.clock.change_near(visit.now),
        **(typed or {}),
    )
    return show(request, "pages/print.html", page, status)
