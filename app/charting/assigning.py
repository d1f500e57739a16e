"""Who is to have which bed, and who covers for whom, as facts.

A plan for a shift. Who has a bed is another question, which only an acceptance answers
(decision 10).
"""

from collections.abc import Mapping
from datetime import datetime

from msgspec import Struct

ANOTHER = "other"
COVER_REASONS: Mapping[str, str] = {
    "asked": "asked to help",
    "busy": "they are busy or away",
    "round": "a round shared between us",
    "emergency": "an emergency",
    ANOTHER: "another reason",
}
"""Why somebody acts in a bed that is assigned to somebody else (engineering judgement). Codes
begin with different letters: one key chooses."""


class Assigned(Struct, frozen=True):
    """One bed of one shift; `staff_id` is empty where nobody is to have it.

    `id` is the row that the next choice supersedes.
    """

    id: str
    bed_id: str
    shift_at: datetime
    staff_id: str
    name: str
    author: str
    at: datetime


class Cover(Struct, frozen=True):
    """Who looks after whose beds, from when until when, and why."""

    id: str
    staff_id: str
    name: str
    for_id: str
    for_name: str
    from_at: datetime
    to_at: datetime
    words: str
    author: str
    bed_id: str = ""
    bed: str = ""
    """The code of the one bed that it is about; empty for all beds of the colleague."""

    def holds(self, now: datetime) -> bool:
        """Whether it is so at `now`; the end belongs to it no more."""
        return self.from_at <= now < self.to_at

    def touches(self, from_at: datetime, to_at: datetime) -> bool:
        """Whether any of it lies in that span."""
        return self.from_at < min(to_at, self.to_at) and from_at < self.to_at
