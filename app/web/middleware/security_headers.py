"""Headers that tell the browser to trust nothing but this site, on every answer."""

from collections.abc import Mapping

from starlette.types import ASGIApp, Message, Receive, Scope, Send

CONTENT_SECURITY_POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' data:",
        "font-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)

ALWAYS: Mapping[str, str] = {
    "Content-Security-Policy": CONTENT_SECURITY_POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}

ONLY_HTTPS = {"Strict-Transport-Security": "max-age=31536000"}


Headers = list[tuple[bytes, bytes]]

NO_STORE = (b"cache-control", b"no-store")


class SecurityHeaders:
    """Adds the headers; answers are not stored by anybody unless they say how long they keep.

    `https` is False for the demo on the loopback, which has no certificate.
    """

    def __init__(self, app: ASGIApp, *, https: bool) -> None:
        self.app = app
        given = {**ALWAYS, **(ONLY_HTTPS if https else {})}
        self._headers = [(name.lower().encode(), text.encode()) for name, text in given.items()]

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        is_static = scope["path"].startswith("/static/")

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = self._added(message["headers"], is_static=is_static)
            await send(message)

        await self.app(scope, receive, send_with_headers)

    def _added(self, answered: Headers, *, is_static: bool) -> Headers:
        keeps = is_static and any(name == NO_STORE[0] for name, _ in answered)
        # A page left in a cache could be read by whoever sits down next.
        ours = self._headers if keeps else [*self._headers, NO_STORE]
        names = {name for name, _ in ours}
        return [*(pair for pair in answered if pair[0] not in names), *ours]
