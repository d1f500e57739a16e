"""Every answer tells when the page locks, so that one which stays open learns what keeps it."""

from starlette.datastructures import MutableHeaders, State
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from app.pages.times import iso
from app.web.idle import locks_at

HEADER = "X-Locks-At"


class LocksAt:
    """Adds the moment where somebody is signed in.

    What a page asks for by itself carries it too, unmoved: so it hears of a touch elsewhere.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        state = State(scope.setdefault("state", {}))

        async def send_with_moment(message: Message) -> None:
            if message["type"] == "http.response.start":
                moment = locks_at(state)
                if moment is not None:
                    MutableHeaders(scope=message)[HEADER] = iso(moment)
            await send(message)

        await self.app(scope, receive, send_with_moment)
