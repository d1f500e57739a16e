"""Whether the record is of this version; which that is stands in files, read once for a process."""

from functools import cache

from app.record.database import Database
from app.record.migrate import current_revision, revisions


def is_of_this_version(database: Database) -> bool:
    """Whether the store has the schema of this version. Raises NotReadable without a store."""
    return current_revision(database) == _newest()


@cache
def _newest() -> str:
    return revisions()[-1]
