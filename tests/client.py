"""A browser without a screen: it keeps cookies, sends forms as they stand, inspects every page."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

import httpx
from anyio.from_thread import BlockingPortal, start_blocking_portal
from fastapi import FastAPI

from tests.seen import Element, Page

LOOPBACK = "http://127.0.0.1"


class Answer:
    """One answer; `page` is its HTML, inspected."""

    def __init__(self, response: httpx.Response, identifiers: frozenset[str]) -> None:
        self.response = response
        self.status = response.status_code
        self.headers = response.headers
        self.text = response.text
        self.page = Page(response.text if self.is_html else "")
        complaints = self.page.complaints(identifiers)
        assert not complaints, f"{self.path} ({self.status}): " + "; ".join(complaints)
        for word in identifiers:
            assert word not in str(response.url), f"the address of {self.path} names {word}"

    @property
    def is_html(self) -> bool:
        """Whether this is a page or a part of one."""
        return self.headers.get("content-type", "").startswith("text/html")

    @property
    def path(self) -> str:
        """Where the browser ended up."""
        return self.response.url.path


class Browser:
    """One browser of one person. `identifiers` are texts that no title or address may hold."""

    def __init__(
        self,
        app: FastAPI,
        portal: BlockingPortal,
        *,
        base_url: str = LOOPBACK,
        address: str = "10.1.1.1",
        identifiers: frozenset[str] = frozenset(),
    ) -> None:
        self.app = app
        self.portal = portal
        self.identifiers = identifiers
        self.client = httpx.AsyncClient(
            transport=httpx.ASGITransport(app, client=(address, 50000)), base_url=base_url
        )
        self.last: Answer | None = None

    def another(self, address: str = "10.1.1.2") -> "Browser":
        """A second browser on the same app, without this one's cookies."""
        return Browser(
            self.app,
            self.portal,
            base_url=str(self.client.base_url),
            address=address,
            identifiers=self.identifiers,
        )

    @property
    def cookies(self) -> httpx.Cookies:
        """What this browser keeps."""
        return self.client.cookies

    def send(self, method: str, path: str, *, follow: bool = True, **more: Any) -> Answer:
        """Any request; redirects are followed as a browser does."""
        request = self.client.build_request(method, path, **more)
        response = self.portal.call(lambda: self.client.send(request, follow_redirects=follow))
        self.last = Answer(response, self.identifiers)
        return self.last

    def get(self, path: str, *, follow: bool = True, **more: Any) -> Answer:
        """Open an address."""
        return self.send("GET", path, follow=follow, **more)

    def part(self, path: str, **more: Any) -> Answer:
        """What htmx would get for a part of the page in front."""
        here = str(self.client.base_url.join(self.last.path if self.last else "/"))
        headers = {"HX-Request": "true", "HX-Current-URL": here}
        return self.send("GET", path, follow=False, headers=headers, **more)

    def post(
        self, path: str, typed: Mapping[str, Any], *, follow: bool = True, **headers: str
    ) -> Answer:
        """Send a form that no page offered; nothing is added to it."""
        more = {name.replace("_", "-"): value for name, value in headers.items()}
        return self.send("POST", path, follow=follow, data=dict(typed), headers=more)

    def submit(self, action: str, *, press: str = "", follow: bool = True, **typed: Any) -> Answer:
        """Fill in and send the form on the page in front, with what already stands in it.

        `press` is the value of the button that is pressed where there are several.
        """
        assert self.last is not None, "open a page first"
        form = self.last.page.form(action)
        fields = {**filled_in(form), **_pressed(form, press)}
        unknown = set(typed) - {element["name"] for element in _parts_of(form)}
        assert not unknown, f"the form {action} has no field {sorted(unknown)}"
        headers = {"Sec-Fetch-Site": "same-origin", "Sec-Fetch-Mode": "navigate"}
        data = {name: text for name, text in {**fields, **typed}.items() if text is not None}
        return self.send("POST", action, follow=follow, data=data, headers=headers)

    def sign_in(self, sign_in_name: str, password: str, *, follow: bool = True) -> Answer:
        """Sign in through the page."""
        self.get("/sign-in")
        return self.submit("/sign-in", sign_in_name=sign_in_name, password=password, follow=follow)


@contextmanager
def browsing(app: FastAPI, **more: Any) -> Iterator[Browser]:
    """A browser on a running app, start-up and shut-down included."""
    with (
        start_blocking_portal() as portal,
        portal.wrap_async_context_manager(app.router.lifespan_context(app)),
    ):
        yield Browser(app, portal, **more)


def filled_in(form: Element) -> dict[str, list[str]]:
    """What a browser would send of a form as it stands."""
    fields: dict[str, list[str]] = {}
    for element in _parts_of(form, "input", "select", "textarea"):
        if (text := _text_of(element)) is not None and element["name"]:
            fields.setdefault(element["name"], []).append(text)
    return fields


def _parts_of(form: Element, *tags: str) -> Iterator[Element]:
    """What is inside the form, and what stands elsewhere on the page and names it."""
    yield from form.all(*tags)
    page = form
    while page.parent is not None:
        page = page.parent
    for element in page.all(*tags):
        if form["id"] and element["form"] == form["id"] and not element.inside("form"):
            yield element


def _text_of(element: Element) -> str | None:
    """What stands in one field; None for one that is not sent."""
    if "disabled" in element.attributes:
        return None
    if element.tag == "textarea":
        return element.own_text.removeprefix("\n")
    if element.tag == "select":
        options = list(element.all("option"))
        chosen = [option for option in options if "selected" in option.attributes] or options[:1]
        return chosen[0].attributes.get("value", chosen[0].text) if chosen else None
    if element["type"] in ("submit", "button"):
        return None
    if element["type"] in ("checkbox", "radio"):
        return (element["value"] or "on") if "checked" in element.attributes else None
    return element["value"]


def _pressed(form: Element, value: str) -> dict[str, list[str]]:
    if not value:
        return {}
    for button in form.all("button", "input"):
        if button["value"] == value and button["name"]:
            return {button["name"]: [value]}
    raise AssertionError(f"no button {value!r} in the form {form['action']}")
