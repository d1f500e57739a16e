"""What a person said of the open flags of one cause: seen with a plan, or muted for a while.

It is all of a flag that is written down; the flag itself follows from values and policies alone.
Saying that it was seen clears nothing (a drift that became a new level ends, decision 33).
"""

from datetime import datetime
from enum import StrEnum

from msgspec import Struct

LONGEST_PLAN = 140


class Said(StrEnum):
    """What was said."""

    SEEN = "acknowledged"
    MUTED = "muted"
    UNMUTED = "unmuted"


class FlagAnswer(Struct, frozen=True):
    """One person's word on a cause group at the time `at`.

    `answers_at` is the newest raise that the person had before them, `rules` are the flags that
    stood then. `words` is the plan of who acknowledges, or the reason of who mutes; `until` is when
    a mute ends by itself.
    """

    id: str
    group: str
    said: Said
    at: datetime
    answers_at: datetime
    rules: tuple[str, ...]
    words: str
    author: str
    owner: str = ""
    until: datetime | None = None
