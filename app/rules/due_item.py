"""One thing that is due, in absolute moments."""

from datetime import datetime, timedelta

from msgspec import Struct

from app.rules.away import Away

SOON = (timedelta(minutes=15), timedelta(minutes=30))
"""What is asked for within the hour is late and overdue sooner (engineering judgement)."""


class DueItem(Struct, frozen=True):
    """One thing that is due. `kind` is a word of `due_items`, `owner` a role where one is named."""

    kind: str
    what: str
    due_at: datetime
    late_at: datetime
    overdue_at: datetime
    source: str
    owner: str = ""

    def state(self, now: datetime, away: Away | None = None) -> str:
        """ "due", "late", "overdue", or "paused" while the patient is away."""
        if away is not None:
            return "paused"
        if now >= self.overdue_at:
            return "overdue"
        return "late" if now >= self.late_at else "due"


def soon(kind: str, what: str, due_at: datetime, source: str) -> DueItem:
    """Something asked for within the hour."""
    late, overdue = SOON
    return DueItem(kind, what, due_at, due_at + late, due_at + overdue, source)
