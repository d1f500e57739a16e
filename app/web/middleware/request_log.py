"""One line per request, which tells what happened and not about whom."""

import secrets
from time import perf_counter
from typing import Any

import structlog
from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

NOT_MODIFIED = 304

log = structlog.get_logger("leeboard.requests")


class RequestLog:
    """Numbers each request and logs method, route, status and time.

    The route's template stands in the line and never the path or the query: a path holds keys of
    courses, a query may hold what somebody typed. The number goes out as `X-Request-ID`; one that
    came in is ignored, since anybody could choose it. Whatever else is logged meanwhile carries
    the number too.

    "Nothing is new" (304) leaves no line: every open board asks four times a minute, and its
    lines would bury the rest.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        request_id = secrets.token_hex(8)
        scope.setdefault("state", {})["request_id"] = request_id
        started, status = perf_counter(), 0

        async def send_numbered(message: Message) -> None:
            nonlocal status
            if message["type"] == "http.response.start":
                status = message["status"]
                MutableHeaders(scope=message)["X-Request-ID"] = request_id
            await send(message)

        try:
            with structlog.contextvars.bound_contextvars(request_id=request_id):
                await self.app(scope, receive, send_numbered)
        finally:
            if status != NOT_MODIFIED:
                log.info(
                    "request",
                    request_id=request_id,
                    method=scope["method"],
                    route=route_template(scope),
                    status=status,
                    ms=round((perf_counter() - started) * 1000, 1),
                )


def route_template(scope: Scope) -> str:
    """The route as it is declared ("/courses/{course_id}"); "static" or "none" without one."""
    route: Any = scope.get("route")
    if route is not None:
        return str(route.path)
    return "static" if scope["path"].startswith("/static/") else "none"
