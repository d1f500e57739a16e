"""Chart that a state has ended: back from transport, turned supine, standby over."""

from collections.abc import Iterator

from msgspec.structs import asdict

from app.actions.record_event import (
    EventRefused,
    NewEvent,
    checked,
    line_of,
    mark_after_turn,
    write_details,
)
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.episodes import PRONE, TRIAL, outcome_refused
from app.charting.event_facts import Event
from app.charting.events import EventKind
from app.charting.facts import CourseFacts
from app.charting.in_force import going_on
from app.record.courses import course_facts
from app.record.tables import EventEndRow
from app.record.writing import Writing


def end_event(writing: Writing, course_id: str, end: NewEvent, *, save_key: str = "") -> str:
    """End the state of this kind that is going on at that time; returns the end's id.

    Raises EventRefused where none is going on then, KeyReused, and NotFound.
    """
    content = {"ended": True, **asdict(end)}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    kind = checked(end, facts, writing.recorded_at)
    going = _going(facts, kind, end)
    for sentence in _refused(end, kind):
        raise EventRefused(sentence)
    row = EventEndRow(
        course_id=course_id, event_id=going.id, ended_at=end.observed_at, words=line_of(end)
    )
    writing.add_as("end_event", row, course_id=course_id)
    write_details(writing, course_id, going.id, end)
    if kind.code == PRONE:
        mark_after_turn(writing, facts, end)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def _going(facts: CourseFacts, kind: EventKind, end: NewEvent) -> Event:
    going = going_on(facts.events, kind.code, end.observed_at) or _until_then(facts, kind, end)
    if going is not None and going.end_version_id:
        raise EventRefused(f"The end of “{kind.label}” at that time is charted already.")
    if going is not None and going.observed_at < end.observed_at:
        return going
    later = [event for event in facts.events if event.kind == kind.code and event.ended_at is None]
    if later:
        raise EventRefused(
            f"The end is before the beginning: “{kind.label}” is not charted as going on at that"
            " time."
        )
    raise EventRefused(f"“{kind.label}” is not charted as going on at that time.")


def _until_then(facts: CourseFacts, kind: EventKind, end: NewEvent) -> Event | None:
    """The state that another fact ended at this very moment, of which nobody has told the end."""
    for event in facts.events:
        at = event.ended_at
        if event.kind == kind.code and at == end.observed_at and not event.end_version_id:
            return event
    return None


def _refused(end: NewEvent, kind: EventKind) -> Iterator[str]:
    if not kind.lasts:
        yield "This happens at one moment: it has no end."
    if kind.code == TRIAL:
        yield from outcome_refused(end.details)
