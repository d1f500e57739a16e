"""A server in a process of its own: the site on a record, or the floor it is held against.

Run as `python -m tests.bench.serve PORT [URL]`; without a URL it is the floor.
"""

import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from time import monotonic, sleep

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import HTMLResponse
from starlette.routing import Route
from uvicorn import Config, Server

from app.commands.server import run_server
from app.main import create_app, utc_now
from app.record.database import Database
from app.settings import Settings
from tests.bench.line import Line
from tests.site import PASSWORDS, SECRET

PAGE = "x" * 30_000
STARTS_WITHIN_S = 30


async def fixed_page(_request: Request) -> HTMLResponse:
    """30 KB that were there before anybody asked."""
    return HTMLResponse(PAGE)


def serve_floor(port: int) -> None:
    """Starlette and uvicorn as they come."""
    app = Starlette(routes=[Route("/", fixed_page)])
    Server(Config(app, port=port, access_log=False, log_config=None)).run()


def serve_site(port: int, url: str) -> None:
    """The site as `leeboard serve` runs it, with its log."""
    settings = Settings(database_url=url, secret=SECRET, demo=True, cookie_secure=False)
    run_server(create_app(settings, Database(url), utc_now, passwords=PASSWORDS), "127.0.0.1", port)


@contextmanager
def serving(url: str = "") -> Iterator[Line]:
    """A connection to a fresh server: the floor, or the site on the record at `url`."""
    port = _free_port()
    command = [sys.executable, "-m", "tests.bench.serve", str(port), *([url] if url else [])]
    process = subprocess.Popen(command, stderr=subprocess.DEVNULL)
    try:
        line = _connected(port, process)
        yield line
        line.close()
    finally:
        process.terminate()
        process.wait()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def _connected(port: int, process: subprocess.Popen[bytes]) -> Line:
    until = monotonic() + STARTS_WITHIN_S
    while monotonic() < until and process.poll() is None:
        try:
            return Line(port)
        except ConnectionRefusedError:
            sleep(0.05)
    raise RuntimeError("the server did not start")


if __name__ == "__main__":
    if len(sys.argv) > 2:
        serve_site(int(sys.argv[1]), sys.argv[2])
    else:
        serve_floor(int(sys.argv[1]))
