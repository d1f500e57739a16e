"""Events of a course as the record hands them upward: what was said of each, what was put right.

Times are aware and in UTC. Which kinds there are stands in `events`.
"""

from collections.abc import Mapping
from datetime import datetime

from msgspec import Struct


class EventDetail(Struct, frozen=True):
    """What somebody said of an event at one time, by the codes of `fields.episodes`."""

    observed_at: datetime
    author: str
    values: Mapping[str, str]
    id: str = ""
    version_id: str = ""
    """The row that the next version supersedes."""


class PutRight(Struct, frozen=True):
    """What stood of an event or of its end until somebody corrected or struck it.

    `at`, `words` and `author` are what had been charted, the rest is of whoever put it right.
    """

    at: datetime
    words: str
    author: str
    why: str
    by: str
    written_at: datetime
    struck: bool
    of_end: bool


class Event(Struct, frozen=True):
    """A thing that happened, or a state that began or ended (prone, away, standby)."""

    id: str
    kind: str
    observed_at: datetime
    ended_at: datetime | None
    words: str
    author: str
    said: tuple[EventDetail, ...] = ()
    """What was said of it, oldest first; a later word takes the place of an earlier one."""
    end_words: str = ""
    put_right: tuple[PutRight, ...] = ()
    """What of it was corrected, and ends that were struck, in the order of writing."""
    struck: str = ""
    """Why it does not count; empty while it stands."""
    struck_by: str = ""
    struck_at: datetime | None = None
    author_id: str = ""
    version_id: str = ""
    """The row that the next version supersedes."""
    end_id: str = ""
    end_version_id: str = ""
    """The first row that says when it ended, and the newest; empty where nobody charted an end."""

    def detail(self, code: str) -> str:
        """The newest word under a code; empty where nobody said any."""
        found = (each.values[code] for each in reversed(self.said) if code in each.values)
        return next(found, "")
