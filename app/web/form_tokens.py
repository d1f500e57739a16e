"""How a form proves that a page of this site made it, for this browser.

Each form carries a token made from the session's own secret (before sign-in, from a random cookie)
and the site's secret: a copy of the database or a planted cookie alone does not make one.
"""

import hashlib
import hmac
import secrets

from starlette.requests import Request


def new_form_secret() -> str:
    """256 random bits."""
    return secrets.token_urlsafe(32)


def form_token(site_secret: str, form_secret: str) -> str:
    """What stands in the `csrf` field."""
    return hmac.new(site_secret.encode(), form_secret.encode(), hashlib.sha256).hexdigest()


def is_token(site_secret: str, form_secret: str, sent: str) -> bool:
    """Whether the sent token is the one for this secret; compared in constant time.

    Without a secret there is no right token.
    """
    if not form_secret:
        return False
    expected = form_token(site_secret, form_secret)
    return hmac.compare_digest(expected.encode(), sent.encode())


def comes_from_elsewhere(request: Request) -> bool:
    """Whether the browser says that another site sent this form.

    `Sec-Fetch-Site` decides where it is sent. `Origin` is "null" under our own referrer policy and
    then tells nothing; a browser that sends neither is judged by the token alone.
    """
    site = request.headers.get("sec-fetch-site")
    if site is not None:
        return site not in ("same-origin", "none")
    origin = request.headers.get("origin", "null")
    return origin != "null" and origin.partition("://")[2] != request.headers.get("host", "")
