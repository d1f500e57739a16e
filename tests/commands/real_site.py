"""A real site as its operator meets it: commands in processes of their own, and a visitor."""

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import httpx
from msgspec import Struct

from tests.client import filled_in
from tests.processes import ROOT, leeboard
from tests.seen import Page
from tests.site import SECRET

PATIENCE_S = 30


class Done(Struct, frozen=True):
    """What became of a command."""

    returncode: int | None
    stdout: str
    stderr: str


class Operator:
    """Types commands on one record; what the server logs goes into a file."""

    def __init__(self, url: str, folder: Path) -> None:
        self.folder = folder
        self.log = folder / "server.log"
        given = {name: text for name, text in os.environ.items() if "LEEBOARD" not in name}
        self.environment = {
            **given,
            "LEEBOARD_DATABASE_URL": url,
            "LEEBOARD_DATA_DIR": str(folder),
            "LEEBOARD_SECRET": SECRET,
            "LEEBOARD_IDENTITY_DIGITS": "0",
        }

    def types(self, *words: str, answers: str = "") -> Done:
        """One command, to its end."""
        typed, said, complained = (self.folder / name for name in ("typed", "said", "complained"))
        typed.write_text(answers)
        for file in (said, complained):
            file.write_bytes(b"")
        process = leeboard(words, self.environment, typed, said, complained)
        process.start()
        process.join()
        return Done(process.exitcode, said.read_text(), complained.read_text())

    def does(self, *words: str, answers: str = "") -> str:
        """The same where it has to succeed; returns what it printed."""
        done = self.types(*words, answers=answers)
        assert done.returncode == 0, done.stderr or done.stdout
        return done.stdout

    def begins(self, *words: str) -> str:
        """The same as a shell begins it: a Python of its own, which imports the program anew."""
        line = [sys.executable, "-m", "app", *words]
        return subprocess.run(
            line, cwd=ROOT, env=self.environment, capture_output=True, text=True, check=True
        ).stdout

    @contextmanager
    def serving(self) -> Iterator["Visitor"]:
        """The site, served until the block ends, and somebody in front of it."""
        port = free_port()
        nothing, said = Path(os.devnull), self.folder / "said"
        words = ("serve", "--port", str(port))
        server = leeboard(words, self.environment, nothing, said, self.log)
        server.start()
        visitor = Visitor(f"http://127.0.0.1:{port}")
        try:
            visitor.wait_until_ready()
            yield visitor
        finally:
            visitor.client.close()
            server.terminate()
            server.join(PATIENCE_S)
            assert not server.is_alive()


def free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return free.getsockname()[1]


class Visitor:
    """A browser behind the proxy that ends TLS: it sends the site's secure cookies on."""

    def __init__(self, origin: str) -> None:
        self.client = httpx.Client(base_url=origin, timeout=PATIENCE_S)
        self.cookies: dict[str, str] = {}
        self.page = Page("")

    def wait_until_ready(self) -> None:
        until = time.monotonic() + PATIENCE_S
        while True:
            try:
                answer = self.client.get("/healthz/ready")
            except httpx.TransportError:
                answer = None
            if answer is not None and answer.status_code == 200:
                return
            assert time.monotonic() < until, answer and answer.text
            time.sleep(0.1)

    def opens(self, path: str) -> httpx.Response:
        """Open an address; what was answered is the page in front."""
        return self._kept(self.client.get(path, headers=self._headers()))

    def sends(self, action: str, **typed: str) -> httpx.Response:
        """Fill in and send a form of the page in front; returns what it led to."""
        data = {**filled_in(self.page.form(action)), **typed}
        answer = self.client.post(action, data=data, headers=self._headers())
        self._kept(answer)
        while answer.status_code == 303:
            answer = self.opens(answer.headers["location"])
        return answer

    def signs_in(self, name: str, password: str) -> httpx.Response:
        self.opens("/sign-in")
        return self.sends("/sign-in", sign_in_name=name, password=password)

    def _headers(self) -> dict[str, str]:
        pairs = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        return {"Cookie": pairs} if pairs else {}

    def _kept(self, answer: httpx.Response) -> httpx.Response:
        for line in answer.headers.get_list("set-cookie"):
            assert "Secure" in line
            name, _, value = line.partition(";")[0].partition("=")
            self.cookies[name] = value
        self.client.cookies.clear()
        self.page = Page(answer.text)
        return answer
