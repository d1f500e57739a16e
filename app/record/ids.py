"""Keys of record rows: opaque text that sorts in the order of writing."""

import secrets
from datetime import UTC, datetime, timedelta

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_MILLISECOND = timedelta(milliseconds=1)

ROWS_PER_WRITE = 1 << 20
"""How many rows one write can number; a larger import is split into several writes."""


def new_id(at: datetime, sequence: int, number: int) -> str:
    """32 hex digits: 12 of milliseconds, 12 of place in the chain, 8 random.

    The place (the write's audit sequence, then the row's number in that write) makes the order
    total even when the clock stands still. `number` must lie in 0 .. ROWS_PER_WRITE - 1.
    """
    if not 0 <= number < ROWS_PER_WRITE:
        raise ValueError(f"row {number} of one write: at most {ROWS_PER_WRITE} can be numbered")
    return f"{_place(at, sequence, number)}{secrets.token_hex(4)}"


def last_id(at: datetime, sequence: int) -> str:
    """A key behind every row that was written up to this line of the chain, and before any later.

    `at` is the line's moment. No row has it.
    """
    return f"{_place(at, sequence, ROWS_PER_WRITE - 1)}ffffffff"


def first_id(at: datetime) -> str:
    """A key before every row that was written at or after this moment, and behind earlier ones."""
    return f"{_place(at, 0, 0)}00000000"


def last_by(at: datetime) -> str:
    """A key behind every row that was written up to this moment, to the millisecond."""
    return first_id(at + _MILLISECOND)


def written_by(key: str) -> datetime:
    """The moment, to the millisecond, up to which rows were written that do not lie behind a key.

    For rows whose own keys are random and so tell nothing.
    """
    return _EPOCH + int(key[:12], 16) * _MILLISECOND


def _place(at: datetime, sequence: int, number: int) -> str:
    milliseconds = (at - _EPOCH) // _MILLISECOND
    return f"{milliseconds:012x}{sequence * ROWS_PER_WRITE + number:012x}"


def same_write(one: str, other: str) -> bool:
    """Whether two keys were given by the same write; an empty one is of none."""
    return bool(one and other) and _write(one) == _write(other)


def _write(key: str) -> int:
    return int(key[12:24], 16) // ROWS_PER_WRITE


def random_id() -> str:
    """32 random hex digits, for a key that stands in an address and so must tell nothing."""
    return secrets.token_hex(16)
