"""Correct when an event was, when it ended, or a person's words: the old version stays readable."""

from datetime import datetime

from msgspec import Struct

from app.actions.give_reason import reason_in
from app.actions.record_event import EventRefused, NewEvent, add_said, checked
from app.actions.refresh_summary import refresh_summary
from app.actions.strike_event import standing_event
from app.charting.event_facts import Event
from app.charting.event_line import line_with, typed_words
from app.charting.events import COMFORT
from app.charting.facts import CourseFacts
from app.charting.striking import correction_refused
from app.record.courses import course_facts
from app.record.errors import Conflict
from app.record.tables import EventEndRow, EventRow
from app.record.writing import Writing


class EventCorrection(Struct, frozen=True):
    """When it was and in which words, why, and the version that was looked at.

    `of_end` for the end of a state: then time and words are the end's.
    """

    event_id: str
    at: datetime
    words: str
    why: str
    seen: str = ""
    of_end: bool = False


def correct_event(writing: Writing, course_id: str, correction: EventCorrection) -> None:
    """Put another version in the place of one that was wrong.

    Raises ReasonRefused, EventRefused for what cannot be or is what stands already, NotFound, and
    Conflict where somebody was faster.
    """
    why = reason_in(correction.why)
    facts = course_facts(writing.session, course_id)
    event = standing_event(facts, correction.event_id, "" if correction.of_end else correction.seen)
    if correction.of_end:
        _correct_end(writing, facts, event, correction, why)
    else:
        _correct_begin(writing, facts, event, correction, why)
    refresh_summary(writing, course_id)


def _correct_begin(
    writing: Writing, facts: CourseFacts, event: Event, correction: EventCorrection, why: str
) -> None:
    at, words = correction.at, correction.words.strip()
    if (at, words) == (event.observed_at, typed_words(event)):
        raise EventRefused("This is what stands already.")
    if event.kind == COMFORT and not words:
        raise EventRefused("Write who ordered it.")
    row = EventRow(
        supersedes_id=event.version_id,
        course_id=facts.course_id,
        kind=event.kind,
        observed_at=at,
        words=line_with(event, words),
        why=why,
    )
    said = NewEvent(event.kind, at, words)
    _put_right(writing, facts, event, said, row, act="correct_event")
    _move_details(writing, facts, event, event.observed_at, at)


def _correct_end(
    writing: Writing, facts: CourseFacts, event: Event, correction: EventCorrection, why: str
) -> None:
    at, words = correction.at, correction.words.strip()
    seen = correction.seen or event.end_version_id
    if event.ended_at is None or not event.end_version_id or seen != event.end_version_id:
        raise Conflict("the end was struck or corrected meanwhile")
    if (at, words) == (event.ended_at, event.end_words):
        raise EventRefused("This is what stands already.")
    row = EventEndRow(
        supersedes_id=event.end_version_id,
        course_id=facts.course_id,
        event_id=event.id,
        ended_at=at,
        words=words,
        why=why,
    )
    said = NewEvent(event.kind, event.observed_at, words, ended_at=at)
    _put_right(writing, facts, event, said, row, act="correct_event_end")
    _move_details(writing, facts, event, event.ended_at, at)


def _put_right(
    writing: Writing,
    facts: CourseFacts,
    event: Event,
    said: NewEvent,
    row: EventRow | EventEndRow,
    *,
    act: str,
) -> None:
    """Add the version that says so, unless that cannot have been. Raises EventRefused."""
    checked(said, facts, writing.recorded_at)
    ended_at = said.ended_at or event.ended_at
    for sentence in correction_refused(facts, event, said.observed_at, ended_at):
        raise EventRefused(sentence)
    writing.add_as(act, row, course_id=facts.course_id)


def _move_details(
    writing: Writing, facts: CourseFacts, event: Event, before: datetime, after: datetime
) -> None:
    """What was said at the begin or the end was said of that moment, and goes with it."""
    if before == after:
        return
    for said in event.said:
        if said.observed_at == before:
            course, old = facts.course_id, said.version_id
            add_said(writing, course, event.id, after, said.values, instead_of=old)
