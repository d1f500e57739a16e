"""One kept-alive connection that speaks just enough HTTP to measure a server, not a client."""

import socket
from urllib.parse import quote_plus

BLOCK = 1 << 16


class Line:
    """A browser's connection stripped of everything that would be measured with the server."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._connect()
        self.cookies: dict[str, str] = {}
        self.status = 0
        self.body = b""

    def get(self, path: str) -> int:
        """Ask for an address; returns the status, the answer's bytes are in `body`."""
        return self._ask(f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1\r\n{self._cookie()}\r\n", b"")

    def post(self, path: str, **typed: str) -> int:
        """Send a form."""
        body = "&".join(f"{name}={quote_plus(text)}" for name, text in typed.items()).encode()
        head = (
            f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1\r\n{self._cookie()}"
            "Content-Type: application/x-www-form-urlencoded\r\n"
            f"Content-Length: {len(body)}\r\n\r\n"
        )
        return self._ask(head, body)

    def close(self) -> None:
        """Hang up."""
        self._socket.close()

    def _cookie(self) -> str:
        pairs = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        return f"Cookie: {pairs}\r\n" if pairs else ""

    def _connect(self) -> None:
        self._socket = socket.create_connection(("127.0.0.1", self._port))
        self._socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)

    def _ask(self, head: str, body: bytes) -> int:
        """Ask; a server hangs up on who was silent for long, and is called again once."""
        try:
            return self._answer(head, body)
        except ConnectionError:
            self._socket.close()
            self._connect()
            return self._answer(head, body)

    def _answer(self, head: str, body: bytes) -> int:
        self._socket.sendall(head.encode() + body)
        received = b""
        while b"\r\n\r\n" not in received:
            received += self._more()
        raw, _, start = received.partition(b"\r\n\r\n")
        lines = raw.decode("latin-1").split("\r\n")
        self.status = int(lines[0].split()[1])
        length = self._read_head(lines[1:])
        parts = [start]
        missing = length - len(start)
        while missing > 0:
            parts.append(self._more())
            missing -= len(parts[-1])
        self.body = b"".join(parts)
        return self.status

    def _more(self) -> bytes:
        block = self._socket.recv(BLOCK)
        if not block:
            raise ConnectionError("the server hung up")
        return block

    def _read_head(self, lines: list[str]) -> int:
        length = 0
        for line in lines:
            name, _, value = line.partition(": ")
            if name.lower() == "content-length":
                length = int(value)
            elif name.lower() == "set-cookie":
                cookie, _, text = value.partition(";")[0].partition("=")
                self.cookies[cookie] = text
        return length
