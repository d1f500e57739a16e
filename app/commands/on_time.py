"""HTTP/1.1 from visitors who finish asking: a question that only drips in is hung up on.

The server by itself waits for ever for the head of a request; a few hundred such connections, and
nobody else gets through. A body has its own limit, in the app.
"""

import asyncio

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

HEAD_WITHIN_S = 15.0
"""From the first byte of a request, or the start of a connection, to the end of its headers."""


class OnTime(H11Protocol):
    """Closes a connection whose request head is not complete in time."""

    _deadline: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """A visitor has come, and has said nothing yet."""
        super().connection_made(transport)
        self._expect_head()

    def data_received(self, data: bytes) -> None:
        """Bytes of a head, or of what follows it."""
        super().data_received(data)
        if self.conn.their_state is not h11.IDLE:
            self._head_is_complete()
        elif self._deadline is None:
            self._expect_head()

    def connection_lost(self, exc: Exception | None) -> None:
        """The visitor has gone."""
        self._head_is_complete()
        super().connection_lost(exc)

    def _expect_head(self) -> None:
        self._deadline = self.loop.call_later(HEAD_WITHIN_S, self.transport.close)

    def _head_is_complete(self) -> None:
        if self._deadline is not None:
            self._deadline.cancel()
            self._deadline = None
