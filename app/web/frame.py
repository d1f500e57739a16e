"""The frame around a page: who looks, when, and what stands over it."""

from starlette.requests import Request
from starlette.routing import Match

from app.pages.first_run import NO_UNIT_YET, Missing
from app.pages.frame import Frame, Locks, NavLink
from app.pages.shown import When
from app.pages.times import full_time, iso
from app.web.form_tokens import form_token, new_form_secret
from app.web.idle import locks_at
from app.web.site import Site
from app.web.unit_clocks import NO_UNIT
from app.web.visit import Visit

FIRST_STEPS = "/demo/stories"


def frame_for(
    request: Request, title: str, links: tuple[NavLink, ...] = (), *, said: str = ""
) -> Frame:
    """The frame of one page for whoever asked. `title` must not name a patient."""
    site: Site = request.app.state.site
    visit = visit_of(request)
    return Frame(
        title=f"{title} · Leeboard",
        unit_name=visit.units[0].name if visit and visit.units else "",
        viewer_name=visit.person.display_name if visit else "",
        viewer_role=visit.role_name if visit else "",
        now=_now(request, site, visit),
        links=links,
        csrf=_csrf(request, site, visit),
        theme=site.cookies.theme_of(request),
        demo=site.settings.demo,
        first_steps_href=FIRST_STEPS if any(link.href == FIRST_STEPS for link in links) else "",
        notice=site.health.trouble,
        missing=_missing(request, visit),
        said=said,
        here=here_of(request),
        locks=_locks(request, visit),
    )


def _now(request: Request, site: Site, visit: Visit | None) -> When:
    """The time on the unit's wall; for nobody on that of every unit, where they share a zone."""
    if visit is not None:
        return full_time(visit.now, visit.clock)
    return full_time(site.clock(), getattr(request.state, "clock", NO_UNIT))


def _missing(request: Request, visit: Visit | None) -> tuple[Missing, ...]:
    """Whoever is signed in is a person, so that only the unit can be missing."""
    if visit is not None:
        return () if visit.units else (NO_UNIT_YET,)
    missing: tuple[Missing, ...] = getattr(request.state, "missing", ())
    return missing


def here_of(request: Request) -> str:
    """The address that shows this page again; the start for a page that only a form leads to."""
    url = request.url
    if request.method in ("GET", "HEAD"):
        return f"{url.path}?{url.query}" if url.query else url.path
    asked = {"type": "http", "method": "GET", "path": url.path, "headers": []}
    is_page = any(route.matches(asked)[0] is Match.FULL for route in request.app.routes)
    return url.path if is_page else "/"


def _locks(request: Request, visit: Visit | None) -> Locks | None:
    moment = locks_at(request.state)
    if visit is None or moment is None:
        return None
    return Locks(iso(moment), visit.site.settings.idle_minutes)


def visit_of(request: Request) -> Visit | None:
    """Who was found to be signed in while this request was served; None for nobody."""
    visit: Visit | None = getattr(request.state, "visit", None)
    return visit


def _csrf(request: Request, site: Site, visit: Visit | None) -> str:
    """The token for this page's forms, from the session or, without one, from a cookie.

    The cookie is set by `show`, together with the page that needs it.
    """
    if visit is not None:
        return form_token(site.secret, visit.form_secret)
    if not hasattr(request.state, "form_secret"):
        request.state.form_secret = request.cookies.get(site.cookies.form) or new_form_secret()
    return form_token(site.secret, request.state.form_secret)
