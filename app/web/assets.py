"""Where templates and static files lie, and addresses of static files that change with them."""

import hashlib
from functools import cache
from pathlib import Path
from urllib.parse import parse_qs

from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Scope

_APP = Path(__file__).resolve().parents[1]

ONE_YEAR_S = 365 * 24 * 3600


def assets_folder(name: str) -> Path:
    """The folder `templates` or `static`: packed into the wheel, or beside `app` in a checkout."""
    packed = _APP / "_assets" / name
    return packed if packed.is_dir() else _APP.parent / name


@cache
def version_of(path: str) -> str:
    """Twelve hex digits of the file's SHA-256; raises FileNotFoundError for no such file.

    Read once per process: files do not change under a running server, save while one edits them.
    """
    content = (assets_folder("static") / path).read_bytes()
    return hashlib.sha256(content).hexdigest()[:12]


def static_url(path: str) -> str:
    """The address of a static file, with its version so that a browser may keep it for ever."""
    return f"/static/{path}?v={version_of(path)}"


class KeptFiles(StaticFiles):
    """Static files: kept for a year under their version, asked about again without one."""

    def __init__(self) -> None:
        super().__init__(directory=assets_folder("static"))

    async def get_response(self, path: str, scope: Scope) -> Response:
        """The file, with how long it may be kept."""
        response = await super().get_response(path, scope)
        response.headers["Cache-Control"] = (
            f"public, max-age={ONE_YEAR_S}, immutable" if _is_current(path, scope) else "no-cache"
        )
        return response


def _is_current(path: str, scope: Scope) -> bool:
    """Whether the address carries the version that the file has now."""
    asked = parse_qs(scope["query_string"].decode("latin-1")).get("v", [])
    return bool(asked) and asked == [version_of(path)]
