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
    milliseconds = (at - _EPOCH) // _MILLISECOND
    place = sequence * ROWS_PER_WRITE + number
    return f"{milliseconds:012x}{place:012x}{secrets.token_hex(4)}"


def random_id() -> str:
    """32 random hex digits, for a key that stands in an address and so must tell nothing."""
    return secrets.token_hex(16)
