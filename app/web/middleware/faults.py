"""Whatever was raised becomes a page: inside the headers and the log, so those hold for it too."""

from starlette.requests import ClientDisconnect, Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from app.web.trouble import answer_to


class Faults:
    """Answers every exception. Starlette's own outermost answer would go out without our headers.

    One raised after the answer began is passed on: the server has to cut the connection.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        began = False

        async def send_noting(message: Message) -> None:
            nonlocal began
            began = began or message["type"] == "http.response.start"
            await send(message)

        try:
            await self.app(scope, receive, send_noting)
        except ClientDisconnect:  # nobody is left to answer
            return
        except Exception as error:
            if began:
                raise
            response = await answer_to(Request(scope, receive), error)
            await response(scope, receive, send)
