"""Addresses that no page of ours has: they lead nowhere before anything looks them up."""

from urllib.parse import unquote_plus

from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Receive, Scope, Send

from app.web.forms import CANNOT_BE_KEPT


class PlainAddress:
    """Answers 404 to a path or query with a character that no database can look for."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http":
            query = unquote_plus(scope["query_string"].decode("latin-1"))
            if CANNOT_BE_KEPT in scope["path"] or CANNOT_BE_KEPT in query:
                raise HTTPException(404)
        await self.app(scope, receive, send)
