"""How each engine is opened so that it keeps what it is told, refuses change, and reads freely.

Parameters of statements never show in an exception: they hold what people typed.
"""

from collections.abc import Callable
from pathlib import Path
from sqlite3 import Connection as SqliteConnection
from urllib.parse import quote

from msgspec import Struct
from sqlalchemy import URL, Connection, Engine, create_engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.pool import ConnectionPoolEntry

BUSY_MS = 10_000
"""How long a writer waits for another before it says "not saved" (engineering judgement)."""

READERS_KEPT, READERS_MORE = 10, 40
"""Connections for readers: kept open, and opened on top when every thread reads at once."""


class Engines(Struct, frozen=True):
    """Two ways into one database: one that cannot write, and one for writers."""

    readers: Engine
    writers: Engine

    def dispose(self) -> None:
        """Close every connection that is not in use."""
        self.readers.dispose()
        self.writers.dispose()


def open_engines(url: URL) -> Engines:
    """The engines behind a URL; nothing is connected yet.

    Raises ValueError for any engine but a SQLite file or PostgreSQL through psycopg.
    """
    if url.drivername in ("sqlite", "sqlite+pysqlite"):
        return _open_sqlite(url)
    if url.drivername == "postgresql+psycopg":
        return _open_postgresql(url)
    raise ValueError(f"{url.drivername} is neither sqlite nor postgresql+psycopg")


def make_place(url: URL) -> None:
    """On SQLite an empty file for a new store, in a folder of its own; for migrations alone.

    Both are their owner's alone: the file names patients. Raises OSError where they cannot be made.
    """
    if url.get_backend_name() == "sqlite" and url.database:
        path = Path(url.database).absolute()
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        path.touch(mode=0o600)


def has_place(url: URL) -> bool:
    """Whether there is a file to open; True for PostgreSQL, which tells when it is asked."""
    return url.get_backend_name() != "sqlite" or Path(url.database or "").exists()


def _open_sqlite(url: URL) -> Engines:
    if not url.database or url.database == ":memory:":
        raise ValueError("a SQLite database has to be a file: memory forgets")
    # "rw" makes no file: where the record's own is gone, an empty one must not take its place.
    there = url.set(
        database=f"file:{quote(url.database)}", query={**url.query, "mode": "rw", "uri": "true"}
    )
    readers = create_engine(
        there, pool_size=READERS_KEPT, max_overflow=READERS_MORE, hide_parameters=True
    )
    writers = create_engine(there, pool_size=2, hide_parameters=True)
    event.listen(readers, "connect", _sqlite_settings("query_only = ON"))
    event.listen(writers, "connect", _sqlite_settings("journal_mode = WAL"))
    event.listen(readers, "begin", _begin("BEGIN"))
    # A transaction that starts as a reader and writes later fails when another wrote in between.
    event.listen(writers, "begin", _begin("BEGIN IMMEDIATE"))
    return Engines(readers, writers)


def _sqlite_settings(last: str) -> Callable[[SqliteConnection, ConnectionPoolEntry], None]:
    settings = (
        f"busy_timeout = {BUSY_MS}",
        "foreign_keys = ON",
        "recursive_triggers = ON",
        "synchronous = FULL",
        last,
    )

    def on_connect(connection: SqliteConnection, _entry: ConnectionPoolEntry) -> None:
        connection.isolation_level = None  # the driver's own BEGIN comes too late and is deferred
        for setting in settings:
            connection.execute(f"PRAGMA {setting}")

    return on_connect


def _begin(statement: str) -> Callable[[Connection], None]:
    def on_begin(connection: Connection) -> None:
        connection.exec_driver_sql(statement)

    return on_begin


def _open_postgresql(url: URL) -> Engines:
    # READ COMMITTED is asked for by name: under a stricter level the chain's tail, read after
    # the lock, would be the tail of before the wait for it.
    writers = create_engine(
        url,
        pool_pre_ping=True,
        pool_size=5,
        isolation_level="READ COMMITTED",
        hide_parameters=True,
    )
    readers = create_engine(
        url,
        pool_pre_ping=True,
        pool_size=READERS_KEPT,
        max_overflow=READERS_MORE,
        isolation_level="REPEATABLE READ",
        hide_parameters=True,
        execution_options={"postgresql_readonly": True},
    )
    event.listen(writers, "connect", _postgresql_waits)
    return Engines(readers, writers)


def _postgresql_waits(connection: DBAPIConnection, _entry: ConnectionPoolEntry) -> None:
    cursor = connection.cursor()
    cursor.execute(f"SET lock_timeout = {BUSY_MS}")
    cursor.close()
    connection.commit()
