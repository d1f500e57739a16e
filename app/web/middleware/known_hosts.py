"""Only the names that this site goes by: a foreign Host header is refused."""

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

from app.web.errors import UnknownHost

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")


class KnownHosts:
    """Refuses requests for another host; no names at all means that a proxy in front checks.

    Without the check a page elsewhere could point its own name at the loopback and read the demo.
    """

    def __init__(self, app: ASGIApp, *, names: tuple[str, ...]) -> None:
        self.app = app
        self._names = frozenset(name.lower() for name in names)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "http" and self._names:
            name = host_name(Headers(scope=scope).get("host", ""))
            if name not in self._names:
                raise UnknownHost
        await self.app(scope, receive, send)


def host_name(host: str) -> str:
    """The name in a Host header without its port; brackets of an IPv6 address stay."""
    name, _, port = host.rpartition(":")
    return (name if name and port.isdigit() else host).lower()
