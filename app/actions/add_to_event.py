"""Say more of a state that goes on, or of the last one: what is known later comes in a new row."""

from msgspec.structs import asdict

from app.actions.record_event import (
    EventRefused,
    NewEvent,
    checked,
    mark_was_read,
    write_details,
)
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.event_facts import Event
from app.charting.events import EventKind
from app.charting.facts import CourseFacts
from app.record.courses import course_facts
from app.record.writing import Writing


def add_to_event(writing: Writing, course_id: str, more: NewEvent, *, save_key: str = "") -> str:
    """Keep the details of the newest event of this kind by then; returns the row's id.

    Raises EventRefused where there is none, or nothing was said, KeyReused, and NotFound.
    """
    content = {"added": True, **asdict(more)}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    kind = checked(more, facts, writing.recorded_at)
    event = _event(facts, kind, more)
    if not more.details:
        raise EventRefused("Nothing was said: fill in at least one of the fields.")
    key = write_details(writing, course_id, event.id, more)
    if "prone_depth_after" in more.details:
        mark_was_read(writing, facts)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, key)
    return key


def _event(facts: CourseFacts, kind: EventKind, more: NewEvent) -> Event:
    found = [
        event
        for event in facts.events
        if event.kind == kind.code and event.observed_at <= more.observed_at
    ]
    if not found:
        raise EventRefused(f"“{kind.label}” is not charted as begun by that time.")
    return found[-1]
