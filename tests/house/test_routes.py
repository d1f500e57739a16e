"""Routes ask who calls them, check their forms, and stay short."""

import ast
import inspect
import textwrap
from collections.abc import Iterator
from typing import Any

import pytest
from fastapi.dependencies.models import Dependant
from fastapi.routing import APIRoute
from starlette.routing import Route

from app.web.dependencies import SAFE_METHODS, anybodys_form, watching
from app.web.routes import ROUTERS
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.engines import Sqlite
from tests.site import PASSWORD, hire, open_site

ROUTES: list[Route] = [
    route for router in ROUTERS for route in router.routes if isinstance(route, Route)
]
CHANGING = [route for route in ROUTES if route.methods - SAFE_METHODS]
OPEN_TO_EVERYBODY = {"/sign-in", "/theme"}
"""They write nothing about anybody, or come before anybody is signed in; forms are proven too."""

NO_PAGE_OF_ANYBODY = {"/sign-in", "/healthz/live", "/healthz/ready"}

LONGEST_BODY = 25
"""Lines of a route without its signature and docstring: more is the work of an action or a page."""

A_KEY = "0" * 32


def name(route: Route) -> str:
    return f"{'/'.join(sorted(route.methods))} {route.path}"


def asked_for(dependant: Dependant) -> Iterator[Any]:
    """Every function that a route depends on, however deep."""
    for inner in dependant.dependencies:
        yield inner.call
        yield from asked_for(inner)


def address(route: Route) -> str:
    """The route's path with a key in each gap that leads nowhere."""
    gaps = dict.fromkeys(route.param_convertors, A_KEY)
    return route.path_format.format(**gaps)


def body_lines(route: Route) -> int:
    tree = ast.parse(textwrap.dedent(inspect.getsource(route.endpoint))).body[0]
    statements = [
        node
        for node in tree.body
        if not (isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant))
    ]
    return statements[-1].end_lineno - statements[0].lineno + 1


@pytest.fixture(scope="module")
def browser(sqlite: Sqlite) -> Iterator[Browser]:
    """A lead, who may do most, signed in; one for all, since each request is refused."""
    clock = Clock()
    with sqlite.fresh() as database:
        hire(database, clock, "cedar", "lead")
        with browsing(open_site(database, clock)) as browser:
            browser.sign_in("cedar", PASSWORD, follow=False)
            yield browser


def test_there_are_routes_that_change_something():
    assert {"/sign-in", "/sign-out", "/theme"} <= {route.path for route in CHANGING}


@pytest.mark.parametrize("route", CHANGING, ids=name)
def test_a_route_that_changes_something_asks_who_is_signed_in(route: Route):
    assert isinstance(route, APIRoute), "a plain route says nothing of who may call it"
    wanted = anybodys_form if route.path in OPEN_TO_EVERYBODY else watching
    assert wanted in set(asked_for(route.dependant)), (
        "let the route ask for a Charter, a Reader ..."
    )


@pytest.mark.parametrize(
    "route", [route for route in ROUTES if route.path not in NO_PAGE_OF_ANYBODY], ids=name
)
def test_nobody_who_is_not_signed_in_gets_anything(browser: Browser, route: Route):
    stranger = browser.another()
    for method in route.methods:
        answer = stranger.send(method, address(route), follow=False)
        refused = {303} if method in SAFE_METHODS else {401, 403}
        assert answer.status in refused
        if answer.status == 303:
            assert answer.headers["location"].startswith("/sign-in")


@pytest.mark.parametrize("route", CHANGING, ids=name)
@pytest.mark.parametrize("sent", [{}, {"csrf": "0" * 64}], ids=["no token", "a wrong token"])
def test_a_form_without_this_sessions_token_changes_nothing(browser, route: Route, sent):
    for method in route.methods - SAFE_METHODS:
        assert browser.send(method, address(route), data=sent, follow=False).status == 403


@pytest.mark.parametrize("route", ROUTES, ids=name)
def test_a_route_is_short(route: Route):
    assert body_lines(route) <= LONGEST_BODY


@pytest.mark.parametrize("route", ROUTES, ids=name)
def test_a_route_says_what_it_is_for(route: Route):
    assert route.endpoint.__doc__
