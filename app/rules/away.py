"""Whether a patient is away or the machine stands by: nothing falls due meanwhile (decision 31)."""

from collections.abc import Sequence
from datetime import datetime, timedelta

from msgspec import Struct

from app.charting.event_facts import Event
from app.charting.events import COMFORT
from app.charting.facts import CourseFacts

NO_WORD_AFTER = timedelta(hours=2)
"""After so long "away" reads "away 2 h, no word" (engineering judgement)."""

PAUSING = ("away", "standby")
PAUSES = (*PAUSING, COMFORT)
"""What moves due times: a quiet view does too, though nobody is away."""


Pause = tuple[datetime, datetime | None]
"""From when on nothing falls due, and until when; None where it goes on."""


class Away(Struct, frozen=True):
    """Since when somebody is away or the machine stands by."""

    kind: str
    """`away` or `standby`."""
    since: datetime

    def no_word_at(self) -> datetime:
        """From when it is said that nobody has said anything."""
        return self.since + NO_WORD_AFTER


def away_now(facts: CourseFacts, family: str, family_since: datetime | None) -> Away | None:
    """The pause that goes on; None where there is none. A charted mode of standby is one too."""
    for event in facts.events:
        if event.kind in PAUSING and event.ended_at is None:
            return Away(event.kind, event.observed_at)
    if family == "standby" and family_since is not None:
        return Away("standby", family_since)
    return None


def after_pauses(due_at: datetime, events: Sequence[Event]) -> datetime:
    """What fell due during a pause is due at its end."""
    for event in events:
        ended = event.ended_at
        if event.kind in PAUSES and ended is not None and event.observed_at <= due_at < ended:
            due_at = ended
    return due_at


def pauses_of(events: Sequence[Event]) -> tuple[Pause, ...]:
    """Every pause, oldest first; without an end where it goes on."""
    found = [(e.observed_at, e.ended_at) for e in events if e.kind in PAUSES]
    return tuple(sorted(found, key=lambda pause: pause[0]))


def counting_on(since: datetime, hours: float, pauses: Sequence[Pause]) -> datetime | None:
    """When so many hours have passed that no pause took; None while one goes on."""
    due = since + timedelta(hours=hours)
    counted = since
    for begun, ended in pauses:
        begins = max(begun, counted)
        if begins >= due or (ended is not None and ended <= counted):
            continue
        if ended is None:
            return None
        due, counted = due + (ended - begins), ended
    return due
