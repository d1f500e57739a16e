"""Why the record did not do as it was asked: one family, each member carrying what it knows."""

# ruff: noqa: N818 - the names are states of the record that a page has words for, not mishaps


class RecordError(Exception):
    """Anything the record refuses; nothing of the write in question was kept, unless it says so."""


class NotWritable(RecordError):
    """The store cannot take a write now: full, read-only, locked, or the connection is gone.

    `uncertain` is True when the connection broke during COMMIT, so that the write may have been
    kept: asking again with the same idempotency key is the only way to know.
    """

    def __init__(self, why: str, *, uncertain: bool = False) -> None:
        super().__init__(why)
        self.why = why
        self.uncertain = uncertain


class NotReadable(RecordError):
    """The store cannot be read now: no connection, no file, or a damaged one."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


class Conflict(RecordError):
    """The database refused a row: a key already taken, a link to nothing, a broken invariant.

    A second correction of the same version arrives here, because a row can be superseded once.
    """

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


class OnlyGrows(RecordError):
    """Somebody tried to change or remove a record row, and the database refused."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


class NotAudited(RecordError):
    """A write ended without an audit line, or a row was added past `Writing.add`."""


class Unstorable(RecordError):
    """A value that the two engines would not give back as it was written."""

    def __init__(self, table: str, column: str, why: str) -> None:
        super().__init__(f"{table}.{column}: {why}")
        self.table = table
        self.column = column
        self.why = why


class NotFound(RecordError):
    """No row of that kind under that key."""

    def __init__(self, kind: str, key: str) -> None:
        super().__init__(f"no {kind} {key!r}")
        self.kind = kind
        self.key = key


class KeyReused(RecordError):
    """An idempotency key came back with other content than the first time."""

    def __init__(self, key: str) -> None:
        super().__init__("this form was already sent with other content")
        self.key = key


class NotRestored(RecordError):
    """A backup that cannot be read in, or a store that cannot take one; nothing was kept."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why
