"""The real app behind a real port, for as many browsers as a test opens."""

import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

import uvicorn
from fastapi import FastAPI


@contextmanager
def running(app: FastAPI) -> Iterator[str]:
    """The origin under which the app answers; the server stops with the block."""
    with socket.socket() as held:
        held.bind(("127.0.0.1", 0))
        held.listen()
        server = uvicorn.Server(uvicorn.Config(app, log_level="error", access_log=False))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [held]}, daemon=True)
        thread.start()
        _wait(server)
        yield f"http://127.0.0.1:{held.getsockname()[1]}"
        server.should_exit = True
        thread.join(timeout=10)


def _wait(server: uvicorn.Server) -> None:
    for _ in range(400):
        if server.started:
            return
        time.sleep(0.05)
    raise TimeoutError("the server did not start within twenty seconds")
