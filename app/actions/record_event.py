"""Chart that something happened, or that a state began, at its own time."""

from dataclasses import asdict, dataclass
from datetime import datetime, timedelta

from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.events import EVENT_KINDS, LONGEST_WORDS, EventKind, event_words
from app.charting.facts import CourseFacts
from app.charting.in_force import going_on
from app.record.courses import course_facts
from app.record.tables import EventRow
from app.record.writing import Writing

CLOCK_SKEW = timedelta(minutes=2)
"""How far two clocks may differ before a time counts as still to come (engineering judgement)."""


@dataclass(frozen=True, slots=True)
class NewEvent:
    """An event as it was entered: the code of its kind, when it was, and a person's words."""

    kind: str
    observed_at: datetime
    words: str = ""


class EventRefused(ValueError):  # noqa: N818 - it names a state that a form has words for
    """Nothing was saved; the sentence says why."""


def record_event(writing: Writing, course_id: str, event: NewEvent, *, save_key: str = "") -> str:
    """Keep the event and bring the board up to it; returns its id.

    Raises EventRefused, KeyReused for a key that came with other content, and NotFound.
    """
    content = asdict(event)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    kind = checked(event, facts, writing.recorded_at)
    if kind.lasts and going_on(facts.events, kind.code, event.observed_at) is not None:
        raise EventRefused(f"“{kind.label}” is charted already and has not ended.")
    row = EventRow(
        course_id=course_id,
        kind=kind.code,
        observed_at=event.observed_at,
        words=event_words(kind, event.words.strip()),
    )
    writing.add(row)
    writing.audit("record_event", course_id=course_id, subject=row)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def checked(event: NewEvent, facts: CourseFacts, now: datetime) -> EventKind:
    """The event's kind, once nothing about it is impossible. Raises EventRefused."""
    kind = EVENT_KINDS.get(event.kind)
    if kind is None:
        raise EventRefused("Say what happened: pick one of the list.")
    if event.observed_at > now + CLOCK_SKEW:
        raise EventRefused("The time is still to come.")
    if event.observed_at < facts.support_started_at:
        raise EventRefused("The time is before support started. Is it the right day?")
    if facts.ended_at is not None and event.observed_at > facts.ended_at:
        raise EventRefused("The course had ended by that time.")
    if kind.code == "other" and not event.words.strip():
        raise EventRefused("Say in a few words what happened.")
    if len(event.words.strip()) > LONGEST_WORDS:
        raise EventRefused(f"{len(event.words.strip())} characters: it takes {LONGEST_WORDS}.")
    return kind
