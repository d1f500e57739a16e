"""The cookies of this site: how they are named, flagged, set and taken back."""

from msgspec import Struct
from starlette.requests import Request
from starlette.responses import Response

THEMES = ("day", "night", "auto")
ONE_YEAR_S = 365 * 24 * 3600


class Cookies(Struct, frozen=True):
    """Names and flags. `secure` is False only for the demo on the loopback, which has no HTTPS.

    With `secure` the names carry the `__Host-` prefix: then no other host of the same domain can
    plant one. All are HttpOnly and SameSite=Strict: a link from elsewhere arrives signed out, and
    that is wanted, since nobody links into a patient's page from outside.
    """

    secure: bool

    @property
    def session(self) -> str:
        """Holds the token of a signed-in browser."""
        return self._named("session")

    @property
    def form(self) -> str:
        """Holds what a form proves its origin with before anybody is signed in."""
        return self._named("form")

    @property
    def theme(self) -> str:
        """Holds day, night or auto."""
        return self._named("theme")

    def put(self, response: Response, name: str, value: str, max_age_s: int | None = None) -> None:
        """Set a cookie; without an age it ends with the browser."""
        response.set_cookie(
            name,
            value,
            max_age=max_age_s,
            path="/",
            secure=self.secure,
            httponly=True,
            samesite="strict",
        )

    def take_back(self, response: Response, name: str) -> None:
        """Ask the browser to forget a cookie."""
        response.delete_cookie(name, path="/", secure=self.secure, httponly=True, samesite="strict")

    def theme_of(self, request: Request) -> str:
        """The theme as a page wants it: empty to follow the device."""
        theme = request.cookies.get(self.theme, "")
        return theme if theme in ("day", "night") else ""

    def _named(self, name: str) -> str:
        return f"{'__Host-' if self.secure else ''}leeboard-{name}"
