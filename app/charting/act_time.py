"""When an act can have happened: neither later than now nor before the patient's support began."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from app.charting.facts import CourseFacts

CLOCK_SKEW = timedelta(minutes=2)
"""How far two clocks may differ before a time counts as still to come (engineering judgement)."""


def is_to_come(at: datetime, now: datetime) -> bool:
    """Whether a time is still to come, by more than two clocks may differ."""
    return at > now + CLOCK_SKEW


def time_refused(facts: CourseFacts, at: datetime, now: datetime) -> Iterator[str]:
    """Why nothing can have happened to this patient then, in the order in which to say it."""
    if is_to_come(at, now):
        yield "The time is still to come."
    if at < facts.support_started_at:
        yield "The time is before support started. Is it the right day?"
