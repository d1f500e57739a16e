"""Templates: strict, escaped, and given one variable, the page."""

from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from starlette.responses import HTMLResponse

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
    return environment


class Pages:
    """Writes pages out."""

    def __init__(self) -> None:
        self._environment = template_environment()

    def text(self, template: str, page: object, **more: object) -> str:
        """The template with `page` in it; `more` only where a part is returned by itself."""
        return self._environment.get_template(template).render(page=page, **more)

    def answer(
        self, template: str, page: object, status: int = 200, **more: object
    ) -> HTMLResponse:
        """The same as an answer."""
        return HTMLResponse(self.text(template, page, **more), status_code=status)
