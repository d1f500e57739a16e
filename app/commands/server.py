"""Runs an app until somebody stops it."""

import uvicorn
from fastapi import FastAPI

from app.commands.logs import keep_logs
from app.commands.on_time import OnTime

MOST_CONNECTIONS = 1000
"""Beyond it a new one is refused, so that slow ones cannot use up the process (engineering
judgement)."""


def run_server(app: FastAPI, host: str, port: int, proxies: tuple[str, ...] = ()) -> None:
    """Serve in this process. `proxies` are addresses whose word on the visitor's address counts."""
    keep_logs()
    uvicorn.Server(server_config(app, host, port, proxies)).run()


def server_config(
    app: FastAPI, host: str, port: int, proxies: tuple[str, ...] = ()
) -> uvicorn.Config:
    """How the server is told to behave."""
    return uvicorn.Config(
        app,
        http=OnTime,
        host=host,
        port=port,
        proxy_headers=bool(proxies),
        forwarded_allow_ips=",".join(proxies),
        server_header=False,
        access_log=False,  # its lines hold addresses of pages, and those hold keys of courses
        log_config=None,
        lifespan="on",
        ws="none",
        limit_concurrency=MOST_CONNECTIONS,
        timeout_keep_alive=15,
        timeout_graceful_shutdown=10,
    )
