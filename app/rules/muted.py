"""Whether nothing is judged or due at a course: it is closed, or support has been withdrawn.

Nothing is deleted by it: limits, flags, due items and tasks are left out while it lasts, and pages
say so with since when and why. "No flag raised" is never said of such a course.
"""

from dataclasses import dataclass
from datetime import datetime

from app.charting.course_ends import end_words
from app.charting.events import COMFORT
from app.charting.facts import CourseFacts

CLOSED = "closed"


@dataclass(frozen=True, slots=True)
class Muted:
    """Since when, why and by whom nothing is judged or due."""

    kind: str
    """`closed` or `comfort`."""
    since: datetime
    words: str
    author: str


def muted_now(facts: CourseFacts) -> Muted | None:
    """The muting that goes on in these facts; None where there is none."""
    if facts.ended_at is not None:
        newest = facts.ends[-1] if facts.ends else None
        words = end_words(facts.end_kind, newest.words if newest else "")
        return Muted(CLOSED, facts.ended_at, words, newest.author if newest else "")
    for event in facts.events:
        if event.kind == COMFORT and event.ended_at is None:
            return Muted(COMFORT, event.observed_at, event.words, event.author)
    return None
