"""The question why somebody acts in a bed that is assigned to a colleague this shift."""

from datetime import datetime

from msgspec import Struct

from app.charting.assigning import COVER_REASONS
from app.pages.times import clock_time
from app.rules.unit_clock import UnitClock


class Reason(Struct, frozen=True):
    """One of the short list; one key chooses it."""

    value: str
    label: str
    letter: str
    chosen: bool


class CoverQuestion(Struct, frozen=True):
    """A short list and words, with what was chosen and why that was not enough."""

    told: str
    """Whose bed it is, and for how long an answer holds."""
    reasons: tuple[Reason, ...]
    words: str = ""
    error: str = ""


def cover_question(
    bed: str,
    name: str,
    until: datetime,
    now: datetime,
    clock: UnitClock,
    *,
    reason: str = "",
    words: str = "",
    error: str = "",
) -> CoverQuestion:
    """The question about one bed, assigned to `name` in the shift that ends at `until`."""
    holds = clock_time(until, now, clock)
    return CoverQuestion(
        told=f"{bed} is assigned to {name} this shift. Said once, your reason holds until {holds}.",
        reasons=tuple(
            Reason(code, label, code[0], code == reason) for code, label in COVER_REASONS.items()
        ),
        words=words,
        error=error,
    )
