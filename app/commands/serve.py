"""`leeboard serve`: the pages of a real site."""

from typing import Annotated

import typer

from app.commands.opened import given_settings, open_record, refuse, required_secret
from app.commands.server import run_server
from app.main import create_app
from app.web.middleware.known_hosts import LOOPBACK

app = typer.Typer(add_completion=False)

ONLY_HERE = ("127.0.0.1", "::1", "localhost")


@app.command("serve")
def serve(
    host: Annotated[str, typer.Option(help="Address to listen on.")] = "127.0.0.1",
    port: Annotated[int, typer.Option(min=1, max=65535)] = 8000,
    name: Annotated[
        list[str] | None, typer.Option(help="Name that the site goes by; may be repeated.")
    ] = None,
    proxy: Annotated[
        list[str] | None, typer.Option(help="Address of a proxy that ends TLS; may be repeated.")
    ] = None,
) -> None:
    """Serve the pages from one process; a proxy with TLS belongs in front of it."""
    settings = given_settings()
    required_secret(settings)
    names = tuple(name or ())
    if not names and host not in ONLY_HERE:
        refuse("--name is missing: which name do people type to come here?")
    database = open_record(settings)
    site = create_app(settings, database, host_names=names or LOOPBACK, hourly_files=True)
    run_server(site, host, port, tuple(proxy or ()))
