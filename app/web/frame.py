"""The frame around a page: who looks, when, and what stands over it."""

from starlette.requests import Request

from app.actions.permissions import role_words
from app.pages.frame import Frame, NavLink
from app.pages.times import full_time
from app.web.form_tokens import form_token, new_form_secret
from app.web.site import Site
from app.web.unit_clocks import NO_UNIT
from app.web.visit import Visit


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
        viewer_role=role_words(visit.person.role) if visit else "",
        now=full_time(visit.now, visit.clock) if visit else full_time(site.clock(), NO_UNIT),
        links=links,
        csrf=_csrf(request, site, visit),
        theme=site.cookies.theme_of(request),
        demo=site.settings.demo,
        notice=site.health.trouble,
        said=said,
    )


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
