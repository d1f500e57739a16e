"""The links over every page, by what the viewer may do."""

from starlette.requests import Request

from app.actions.permissions import Act, may
from app.pages.frame import NavLink
from app.web.visit import Visit

WITHOUT_A_PATIENT = (("Calculator", "/calculator"), ("Policy", "/policy"), ("Help", "/help"))
"""Where everybody may go who is signed in."""

BEHIND_MORE = frozenset({"/assignments", "/print", "/demo/stories", "/calculator", "/policy"})
"""What is not needed each hour stands behind a word, so that the line over a page stays one."""


def links_for(request: Request, visit: Visit) -> tuple[NavLink, ...]:
    """The places that this person can go to; the one they are in is marked."""
    path = request.url.path
    places = (*_with_patients(visit), *WITHOUT_A_PATIENT)
    return tuple(
        NavLink(label, href, current=href == path, more=href in BEHIND_MORE and href != path)
        for label, href in places
    )


def _with_patients(visit: Visit) -> tuple[tuple[str, str], ...]:
    if not may(visit.person.role, Act.READ_PATIENTS):
        return ()
    drafts = (("Drafts", "/drafts"),) if may(visit.person.role, Act.DRAFT) else ()
    stories = (("Stories", "/demo/stories"),) if visit.site.stories else ()
    mine = (("My beds", "/mine"),) if may(visit.person.role, Act.OFFER) else ()
    always = (*mine, ("Board", "/"), ("Scan", "/scan"), ("Handoffs", "/handoffs"))
    paper = (("Assignments", "/assignments"), ("Print", "/print"), ("Find", "/find"))
    return (*always, *drafts, *paper, *stories)
