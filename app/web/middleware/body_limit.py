"""How much a request may carry and how long it may take to arrive."""

import anyio
from starlette.datastructures import Headers
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from app.web.errors import BodyTooLarge, BodyTooSlow

MOST_BYTES = 1024 * 1024
"""The fullest assessment form is about 20 KB; 1 MiB leaves room for long notes."""

MOST_SECONDS = 20.0
"""From the first byte asked for to the last (engineering judgement: a weak tablet on Wi-Fi)."""


class BodyLimit:
    """Counts a body as it arrives. Raises BodyTooLarge or BodyTooSlow; keeps nothing itself."""

    def __init__(
        self, app: ASGIApp, *, most_bytes: int = MOST_BYTES, most_seconds: float = MOST_SECONDS
    ) -> None:
        self.app = app
        self._most_bytes = most_bytes
        self._most_seconds = most_seconds

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        if declared_length(scope) > self._most_bytes:
            raise BodyTooLarge(self._most_bytes)
        await self.app(scope, self._counted(receive), send)

    def _counted(self, receive: Receive) -> Receive:
        arrived, complete, deadline = 0, False, 0.0

        async def counted() -> Message:
            nonlocal arrived, complete, deadline
            if complete:  # from here on only the end of the connection is waited for
                return await receive()
            deadline = deadline or anyio.current_time() + self._most_seconds
            message = await _before(deadline, receive)
            arrived += len(message.get("body", b""))
            complete = not message.get("more_body", False)
            if arrived > self._most_bytes:
                raise BodyTooLarge(self._most_bytes)
            return message

        return counted


async def _before(deadline: float, receive: Receive) -> Message:
    try:
        with anyio.fail_after(max(0.0, deadline - anyio.current_time())):
            return await receive()
    except TimeoutError:
        raise BodyTooSlow from None


def declared_length(scope: Scope) -> int:
    """The Content-Length header; 0 when it is absent or not a number."""
    text = Headers(scope=scope).get("content-length", "")
    return int(text) if text.isascii() and text.isdigit() else 0
