"""Whether nothing is judged or due at a course: it is closed, or support has been withdrawn.

Nothing is deleted by it: limits, flags, due items and tasks are left out while it lasts, and pages
say so with since when and why. "No flag raised" is never said of such a course.
"""

from datetime import datetime

from msgspec import Struct

from app.charting.course_ends import end_words
from app.charting.event_facts import Event
from app.charting.events import COMFORT
from app.charting.facts import CourseFacts
from app.charting.in_force import going_on

CLOSED = "closed"


class Muted(Struct, frozen=True):
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


def muted_at(facts: CourseFacts, moment: datetime) -> Event | None:
    """The quiet view under which nothing is judged that was seen at a moment; None for none.

    While one goes on, what was seen before it is not judged either; a closed course is read as it
    was judged while it was open.
    """
    if facts.ended_at is None:
        now = next((e for e in facts.events if e.kind == COMFORT and e.ended_at is None), None)
        if now is not None:
            return now
    return going_on(facts.events, COMFORT, moment)


def muted_moments(facts: CourseFacts) -> tuple[datetime, ...]:
    """When a quiet view began or ended, in no order."""
    found = [event for event in facts.events if event.kind == COMFORT]
    ends = [event.ended_at for event in found if event.ended_at is not None]
    return (*(event.observed_at for event in found), *ends)
