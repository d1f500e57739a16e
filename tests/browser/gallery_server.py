"""A small server for the gallery: files, answers that a test prepares, and what was posted."""

import functools
import http.server
import threading
from pathlib import Path
from urllib.parse import parse_qsl, urlsplit

from msgspec import Struct, field

from app.web.middleware.security_headers import CONTENT_SECURITY_POLICY


class Gallery(Struct):
    """Where the gallery is served, what a test wants answered, and what the pages sent."""

    origin: str = ""
    answers: dict[str, tuple[int, str]] = field(default_factory=dict)
    posts: list[tuple[str, list[tuple[str, str]]]] = field(default_factory=list)

    def posts_to(self, path: str) -> list[list[tuple[str, str]]]:
        return [pairs for asked, pairs in self.posts if asked == path]

    def forget(self) -> None:
        self.answers.clear()
        self.posts.clear()


class Handler(http.server.SimpleHTTPRequestHandler):
    def __init__(self, *args: object, gallery: Gallery, **options: object) -> None:
        self.gallery = gallery
        super().__init__(*args, **options)  # type: ignore[arg-type]

    def log_message(self, *args: object) -> None:
        """Silence: the test says what went wrong."""

    def end_headers(self) -> None:
        """The site's own policy, so that a page cannot do here what it may not do there."""
        self.send_header("Content-Security-Policy", CONTENT_SECURITY_POLICY)
        super().end_headers()

    def do_GET(self) -> None:
        if self.path == "/healthz/live":
            self.answer(200, "alive")
        elif not self.prepared():
            super().do_GET()

    def do_POST(self) -> None:
        text = self.rfile.read(int(self.headers["Content-Length"])).decode()
        pairs = parse_qsl(text, keep_blank_values=True)
        self.gallery.posts.append((urlsplit(self.path).path, pairs))
        if not self.prepared():
            self.answer(200, "<!DOCTYPE html><title>posted</title><h1>Posted</h1>")

    def prepared(self) -> bool:
        found = self.gallery.answers.get(urlsplit(self.path).path)
        if found:
            self.answer(*found)
        return found is not None

    def answer(self, status: int, body: str) -> None:
        content = body.encode()
        self.send_response(status)
        if status == 303:
            self.send_header("Location", body)
            content = b""
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        self.wfile.write(content)


def serve(folder: Path, gallery: Gallery) -> http.server.ThreadingHTTPServer:
    """Starts serving in the background; the caller shuts the server down."""
    handler = functools.partial(Handler, gallery=gallery, directory=str(folder))
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    gallery.origin = f"http://127.0.0.1:{server.server_port}"
    threading.Thread(target=server.serve_forever, daemon=True).start()
    return server
