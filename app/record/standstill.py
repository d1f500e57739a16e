"""Whether anything was written since: asked before something that was read is used again."""

import sqlite3
from threading import Lock
from urllib.parse import quote

from sqlalchemy import URL


class Standstill:
    """Tells two equal moments of the store: the same number means that nothing was written between.

    SQLite counts every commit that another connection made, this process's own included, as long
    as the connection that asks never writes itself; so this one is kept for asking. The answer
    comes from shared memory in microseconds, without waiting for anybody. PostgreSQL has no such
    count, and there the answer is always None: nothing is known to stand still.
    """

    def __init__(self, url: URL) -> None:
        self._path = url.database if url.get_backend_name() == "sqlite" else None
        self._connection: sqlite3.Connection | None = None
        self._opened = 0  # a connection counts from its own start: numbers of two say nothing
        self._one_at_a_time = Lock()

    def number(self) -> tuple[int, int] | None:
        """The store's number now; None where it cannot be told, and whoever asks has to read."""
        if self._path is None:
            return None
        with self._one_at_a_time:
            try:
                row = self._open().execute("PRAGMA data_version").fetchone()
                return self._opened, row[0]
            except sqlite3.Error:
                self._close()
                return None

    def close(self) -> None:
        """Close the connection."""
        with self._one_at_a_time:
            self._close()

    def _open(self) -> sqlite3.Connection:
        if self._connection is None:
            self._opened += 1
            address = f"file:{quote(self._path or '')}?mode=ro"
            self._connection = sqlite3.connect(
                address, uri=True, timeout=0, isolation_level=None, check_same_thread=False
            )
        return self._connection

    def _close(self) -> None:
        if self._connection is not None:
            self._connection.close()
            self._connection = None
