"""What a driver's exception means for the person who pressed save, or who reads."""

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import exc

from app.record.append_only import REFUSED
from app.record.errors import Conflict, NotReadable, NotWritable, OnlyGrows, RecordError

_SQLITE = {
    "SQLITE_BUSY": "another program is writing",
    "SQLITE_LOCKED": "another program is writing",
    "SQLITE_FULL": "the disk is full",
    "SQLITE_READONLY": "the store is read-only",
    "SQLITE_IOERR": "the disk did not answer",
    "SQLITE_CANTOPEN": "the store cannot be opened",
    "SQLITE_CORRUPT": "the store is damaged",
    "SQLITE_NOTADB": "the store is damaged",
}
_POSTGRESQL = {
    "25006": "the store is read-only",
    "53100": "the disk is full",
    "53300": "too many connections",
    "55P03": "another writer holds the lock",
    "57P01": "the database server is stopping",
    "57P02": "the database server is stopping",
    "57P03": "the database server is starting",
}


def cause_of(error: exc.SQLAlchemyError) -> str:
    """The trouble in a reader's words; empty when the store itself is not the trouble.

    Never the driver's own text: it may quote what somebody typed.
    """
    if isinstance(error, exc.TimeoutError):
        return "every connection is in use"
    original = getattr(error, "orig", None)
    name = getattr(original, "sqlite_errorname", None)
    if name is not None:
        return next((words for code, words in _SQLITE.items() if name.startswith(code)), "")
    state = getattr(original, "sqlstate", None)
    if state is not None:
        return _POSTGRESQL.get(state, "the connection is gone" if state.startswith("08") else "")
    gone = isinstance(error, exc.OperationalError | exc.InterfaceError)
    return "the connection is gone" if gone else ""


def _refused(error: exc.IntegrityError) -> RecordError:
    if REFUSED in str(error.orig):
        return OnlyGrows("the record only grows: a row can be added, not changed or removed")
    # The driver quotes the values of the key; the constraint's name tells enough.
    diagnosis = getattr(error.orig, "diag", None)
    name = diagnosis.constraint_name if diagnosis else str(error.orig)
    return Conflict(f"the database refused the row: {name}")


@contextmanager
def writing_troubles(*, uncertain: bool = False) -> Iterator[None]:
    """Turn what a driver raises while writing into this family; other errors pass unchanged."""
    try:
        yield
    except exc.IntegrityError as error:
        # Without its cause: PostgreSQL's own text quotes the row, and tracebacks end up in logs.
        raise _refused(error) from None
    except exc.SQLAlchemyError as error:
        if why := cause_of(error):
            raise NotWritable(why, uncertain=uncertain) from error
        raise


@contextmanager
def reading_troubles() -> Iterator[None]:
    """Turn what a driver raises while reading into `NotReadable`; other errors pass unchanged."""
    try:
        yield
    except exc.SQLAlchemyError as error:
        if why := cause_of(error):
            raise NotReadable(why) from error
        raise
