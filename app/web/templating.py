"""Templates: strict, escaped, and given one variable, the page."""

from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from jinja2.utils import htmlsafe_json_dumps
from markupsafe import Markup
from msgspec import to_builtins
from starlette.responses import HTMLResponse

from app.pages.trends_page import Drawing
from app.web.assets import assets_folder, static_url


def template_environment() -> Environment:
    """Jinja2 as every page uses it: a name that does not exist is an error, text is escaped."""
    environment = Environment(
        loader=FileSystemLoader(assets_folder("templates")),
        undefined=StrictUndefined,
        autoescape=select_autoescape(default=True, default_for_string=True),
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    environment.filters["static_url"] = static_url
    environment.filters["drawn"] = DrawnOnce(environment)
    environment.filters["as_data"] = as_data
    return environment


def as_data(drawing: Drawing) -> Markup:
    """What a script draws, as JSON that no text in it can end early."""
    return htmlsafe_json_dumps(to_builtins(drawing))


@cache
def the_environment() -> Environment:
    """The one of this process: a template is read and compiled once for every site in it."""
    return template_environment()


MOST_DRAWN = 4096
"""Rows whose HTML is kept, some 3 KB each; beyond it all are drawn anew."""


class DrawnOnce:
    """The filter `drawn`: the part of a page for one row, drawn once for as long as the row stands.

    A row is frozen, and whoever builds a page hands in the very same object while nothing about it
    changes; so its HTML is known by the object itself. The part's template sees only `row`.
    """

    def __init__(self, environment: Environment) -> None:
        self._environment = environment
        self._kept: dict[tuple[int, str], tuple[object, Markup]] = {}

    def __call__(self, row: object, template: str) -> Markup:
        """The template with the row in it."""
        kept = self._kept.get((id(row), template))
        if kept is None or kept[0] is not row:
            if len(self._kept) >= MOST_DRAWN:
                self._kept = {}
            text = self._environment.get_template(template).render(row=row)
            kept = (row, Markup(text))  # noqa: S704 - our own template wrote and escaped it
            self._kept[id(row), template] = kept
        return kept[1]


class Pages:
    """Writes pages out."""

    def __init__(self) -> None:
        self._environment = the_environment()

    def text(self, template: str, page: object, **more: object) -> str:
        """The template with `page` in it; `more` only where a part is returned by itself."""
        return self._environment.get_template(template).render(page=page, **more)

    def answer(
        self, template: str, page: object, status: int = 200, **more: object
    ) -> HTMLResponse:
        """The same as an answer."""
        return HTMLResponse(self.text(template, page, **more), status_code=status)
