"""What was read of the record and may be used again, because nothing was written since."""

from threading import Lock
from typing import Any

from app.record.database import Database

Memory = dict[str, Any]


class Kept:
    """Gives out one memory for as long as the store stands still, and then an empty one.

    Ask for the memory first, read, then put what was read into that memory: if somebody wrote
    meanwhile, nobody will be given it any more. Where the store cannot tell whether it stands
    still, every memory is new, and everything is read each time.
    """

    def __init__(self) -> None:
        self._number: tuple[int, int] | None = None
        self._memory: Memory = {}
        self._one_at_a_time = Lock()

    def memory(self, database: Database) -> Memory:
        """What was read since the last write; microseconds, so that the event loop may ask."""
        with self._one_at_a_time:
            number = database.standing_still()
            if number is None or number != self._number:
                self._number, self._memory = number, {}
            return self._memory
