"""The links over every page, by what the viewer may do."""

from starlette.requests import Request

from app.actions.permissions import Act, may
from app.pages.frame import NavLink
from app.web.visit import Visit


def links_for(request: Request, visit: Visit) -> tuple[NavLink, ...]:
    """The places that this person can go to; the one they are in is marked."""
    path = request.url.path
    if not may(visit.person.role, Act.READ_PATIENTS):
        return ()
    places = (("Board", "/"), ("Courses in no bed", "/courses"))
    return tuple(NavLink(label, href, current=href == path) for label, href in places)
