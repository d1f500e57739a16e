"""The one way into the store: read freely, write one at a time, and commit exactly once."""

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from datetime import tzinfo

from sqlalchemy import Connection, make_url, text
from sqlmodel import Session

from app.record.connections import BUSY_MS, has_place, make_place, open_engines
from app.record.courses import KEPT
from app.record.errors import NotWritable
from app.record.judging import KEPT_FOLDS
from app.record.kept_courses import KeptCourses
from app.record.standstill import Standstill
from app.record.troubles import reading_troubles, writing_troubles
from app.record.turns import Turns
from app.record.writing import Clock, WriteSession, Writing
from app.rules.watched import KeptFolds

CHAIN_LOCK = 0x6C65_6562_6F61_7264
"""Key of the PostgreSQL lock that puts writers in a row ("leeboard" in ASCII)."""


class Database:
    """An open store, on SQLite or PostgreSQL; safe to share between threads."""

    def __init__(self, url: str) -> None:
        self.url = make_url(url)
        self._engines = open_engines(self.url)
        self._standstill = Standstill(self.url)
        self._courses = KeptCourses()
        self._folds = KeptFolds()
        self._turns = Turns()

    @property
    def dialect(self) -> str:
        """`sqlite` or `postgresql`."""
        return self._engines.writers.dialect.name

    @property
    def has_begun(self) -> bool:
        """Whether anything was ever stored: False where a SQLite file is still to be made."""
        return has_place(self.url)

    def standing_still(self) -> tuple[int, int] | None:
        """A number that is the same as long as nothing is written; None where nobody can tell."""
        return self._standstill.number()

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """One unchanging view of the store, in which the database refuses to write.

        Raises NotReadable when the store cannot be reached.
        """
        with (
            reading_troubles(),
            Session(self._engines.readers, autoflush=False, expire_on_commit=False) as session,
        ):
            session.info.update({KEPT: self._courses, KEPT_FOLDS: self._folds})
            yield session
            # With a ROLLBACK psycopg would forget every statement that it has prepared.
            session.commit()

    @contextmanager
    def writing(
        self,
        clock: Clock,
        author_id: str | None = None,
        *,
        zone: tzinfo | None = None,
        workstation: str = "",
    ) -> Iterator[Writing]:
        """One write by one person: all of it is kept at the end, or none when anything raises.

        `zone` is the unit's, for the offset that each row keeps. Raises NotWritable when the
        store cannot take it, NotAudited when no audit line was given.
        """
        with self._transaction() as session:
            self._take_chain_lock(session.connection())
            writing = Writing(session, clock, author_id, zone, workstation)
            yield writing
            writing.finish()

    @contextmanager
    def working(self) -> Iterator[Session]:
        """A transaction for rows that come and go (sessions, drafts, throttles): no audit line.

        Record rows are refused here.
        """
        with self._transaction() as session:
            yield session

    @contextmanager
    def connection(self) -> Iterator[Connection]:
        """A bare connection in a write transaction, for migrations; a new store begins here.

        Raises NotWritable when the store cannot take it.
        """
        try:
            make_place(self.url)
        except OSError as error:
            raise NotWritable("the store cannot be opened") from error
        with self._turn(), writing_troubles(), self._engines.writers.begin() as connection:
            self._take_chain_lock(connection)
            yield connection

    def close(self) -> None:
        """Close every connection that is not in use."""
        self._standstill.close()
        self._engines.dispose()

    @contextmanager
    def _transaction(self) -> Iterator[Session]:
        with (
            self._turn(),
            writing_troubles(),
            WriteSession(self._engines.writers, expire_on_commit=False) as session,
        ):
            session.info.update({KEPT: self._courses, KEPT_FOLDS: self._folds})
            session.connection()  # on SQLite the lock is taken here, before anything is read
            yield session
            session.flush()
            # After a COMMIT that broke nobody knows on which side of it the connection was lost.
            with writing_troubles(uncertain=self.dialect == "postgresql"):
                session.commit()
            self._courses.committed(session)

    def _take_chain_lock(self, connection: Connection) -> None:
        """Wait for the writer before; on SQLite the transaction began with its lock."""
        if self.dialect == "postgresql":
            # In a statement of its own: a tail read together with the lock can be stale.
            connection.execute(text("SELECT pg_advisory_xact_lock(:key)"), {"key": CHAIN_LOCK})

    def _turn(self) -> AbstractContextManager[None]:
        """On SQLite, this process's turn to write; PostgreSQL has its own queue."""
        return self._sqlite_turn() if self.dialect == "sqlite" else nullcontext()

    @contextmanager
    def _sqlite_turn(self) -> Iterator[None]:
        if not self._turns.take(BUSY_MS / 1000):
            raise NotWritable("another writer holds the lock")
        try:
            yield
        finally:
            self._turns.give_back()
