"""Addresses that a request may send the browser to next."""

from urllib.parse import urlsplit


def local_path(target: str, otherwise: str = "/") -> str:
    """The target when it is a path on this site, else `otherwise`.

    Refuses other schemes and hosts, "//host", backslashes (browsers read them as slashes) and
    control characters (browsers drop them, and "/\\t/host" becomes "//host").
    """
    if not target.startswith("/") or not target.isprintable() or "\\" in target:
        return otherwise
    # Starlette quotes what is left, but a second slash in front would still name a host.
    parts = urlsplit(target)
    is_local = not parts.scheme and not parts.netloc and not target.startswith("//")
    return target if is_local else otherwise
