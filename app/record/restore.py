"""Read a backup into an empty store, row by row as it was written.

This is the one way for record rows past `Writing`. That door gives every row a new moment and a new
seal, while a restored row keeps its key, its `recorded_at` and its place in the chain: they are
what was written then, and their hashes have to come out the same. The refusals stay on. Rows are
only added, to a store that holds none, in one transaction: all of them, or nothing.
"""

from collections.abc import Iterator
from itertools import islice

from sqlalchemy import Connection, Table, func, insert, select
from sqlmodel import Session

from app.record.audit import tail
from app.record.backup_file import BackupFile, Manifest
from app.record.copied_rows import AT_ONCE, COPIED, Values, from_line
from app.record.database import Database
from app.record.errors import NotRestored
from app.record.migrate import revisions


def restore(database: Database, backup: BackupFile) -> Manifest:
    """Write every row of the backup, and check that the chain ends where it ended then.

    The store has to be migrated to this version and empty. Raises NotRestored, NotWritable, and
    Conflict when the rows do not fit together; nothing is kept then. What the record says is not
    judged here: run `verify` after it.
    """
    _refuse_foreign(backup.manifest)
    with database.connection() as connection:
        _refuse_unless_empty(connection)
        for table in COPIED:
            _write(connection, table, backup)
        end = tail(Session(connection))
        if (end.seq, end.hash) != (backup.manifest.audit_seq, backup.manifest.audit_hash):
            raise NotRestored("the chain does not end where the manifest says")
    return backup.manifest


def _refuse_foreign(manifest: Manifest) -> None:
    """An older backup can be read: tables only ever grow, by columns that may be empty."""
    if manifest.revision not in revisions():
        raise NotRestored(
            f"the backup is of schema revision {manifest.revision}, which this version"
            " does not know: use the version that made it, or a newer one"
        )
    unknown = manifest.tables.keys() - {table.name for table in COPIED}
    if unknown:
        raise NotRestored(f"this version has no table {', '.join(sorted(unknown))}")


def _refuse_unless_empty(connection: Connection) -> None:
    for table in COPIED:
        rows = connection.execute(select(func.count()).select_from(table)).scalar_one()
        if rows:
            raise NotRestored(
                f"the store is not empty, {table.name} holds {rows} rows: a backup is only read"
                " into a new store, so that nothing is ever mixed"
            )


def _write(connection: Connection, table: Table, backup: BackupFile) -> None:
    rows = _rows(table, backup)
    while some := list(islice(rows, AT_ONCE)):
        connection.execute(insert(table), some)


def _rows(table: Table, backup: BackupFile) -> Iterator[Values]:
    for line in backup.lines(table.name):
        try:
            yield from_line(table, line)
        except ValueError:
            raise NotRestored(f"a row of {table.name} cannot be read") from None
