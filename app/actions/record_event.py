"""Chart that something happened, or that a state began, at its own time."""

import json
from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta

from msgspec import Struct, field
from msgspec.structs import asdict

from app.actions.refresh_summary import refresh_summary
from app.actions.refused import ActRefused
from app.actions.rule_tasks import RuleTask, close_rule_task, open_rule_tasks
from app.actions.sent_once import did_before, keep_sent
from app.charting.act_time import is_to_come, time_refused
from app.charting.episodes import (
    PRONE,
    SCREEN,
    TRIAL,
    outcome_refused,
    overlap_refused,
    screen_refused,
    told_in_short,
    trial_refused,
)
from app.charting.events import EVENT_KINDS, LONGEST_WORDS, EventKind, event_words
from app.charting.facts import CourseFacts
from app.record.courses import course_facts
from app.record.tables import EventDetailRow, EventEndRow, EventRow
from app.record.writing import Writing

TURNED = "turned"
"""The rule whose task asks for the tube's mark after a turn."""

AFTER_A_TURN = timedelta(minutes=30)
"""When the tube's mark is to be read after a turn, unless it was told (engineering judgement)."""


class NewEvent(Struct, frozen=True):
    """An event as it was entered: the code of its kind, when it was, and a person's words.

    `details` go by the codes of `fields.episodes`; `ended_at` is told of a state that is over.
    """

    kind: str
    observed_at: datetime
    words: str = ""
    details: Mapping[str, str] = field(default_factory=dict)
    ended_at: datetime | None = None


class EventRefused(ActRefused):
    """The event cannot stand beside what is charted."""


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
    for sentence in _neighbours_refuse(event, kind, facts):
        raise EventRefused(sentence)
    row = _write(writing, facts, event, kind)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def _write(writing: Writing, facts: CourseFacts, event: NewEvent, kind: EventKind) -> EventRow:
    row = EventRow(
        course_id=facts.course_id,
        kind=kind.code,
        observed_at=event.observed_at,
        words=event_words(kind, line_of(event)),
    )
    writing.add_as("record_event", row, course_id=facts.course_id)
    write_details(writing, facts.course_id, row.id, event)
    if event.ended_at is not None:
        end = EventEndRow(course_id=facts.course_id, event_id=row.id, ended_at=event.ended_at)
        writing.add_as("end_event", end, course_id=facts.course_id)
    elif kind.code == PRONE:
        mark_after_turn(writing, facts, event)
    return row


def line_of(event: NewEvent) -> str:
    """What stands behind the kind in the event's line: its details in short, and the words."""
    return "; ".join(filter(None, (told_in_short(event.kind, event.details), event.words.strip())))


def write_details(writing: Writing, course_id: str, event_id: str, event: NewEvent) -> str:
    """Keep what was said of an event beyond its line; returns the row's id, empty for nothing."""
    if not event.details:
        return ""
    return add_said(writing, course_id, event_id, event.observed_at, event.details)


def add_said(
    writing: Writing,
    course_id: str,
    event_id: str,
    at: datetime,
    values: Mapping[str, str],
    *,
    instead_of: str | None = None,
) -> str:
    """Add what was said of an event at one time; `instead_of` is the version that it supersedes.

    Returns the row's id.
    """
    row = EventDetailRow(
        supersedes_id=instead_of,
        course_id=course_id,
        event_id=event_id,
        observed_at=at,
        details=json.dumps(dict(values), sort_keys=True, ensure_ascii=False),
    )
    writing.add_as("say_of_event", row, course_id=course_id)
    return row.id


def mark_after_turn(writing: Writing, facts: CourseFacts, event: NewEvent) -> None:
    """A tube moves when a patient is turned: its mark is to be read, unless it was told."""
    if "prone_depth_after" in event.details:
        mark_was_read(writing, facts)
        return
    due = event.observed_at + AFTER_A_TURN
    open_rule_tasks(writing, facts, [RuleTask(TURNED, "Tube mark after the turn", due)])


def mark_was_read(writing: Writing, facts: CourseFacts) -> None:
    """Close the task that a turn opened."""
    for task in facts.tasks:
        if task.is_open and task.rule == TURNED:
            close_rule_task(writing, facts.course_id, task, "the mark was read")


def checked(event: NewEvent, facts: CourseFacts, now: datetime) -> EventKind:
    """The event's kind, once nothing about it by itself is impossible. Raises EventRefused."""
    kind = EVENT_KINDS.get(event.kind)
    if kind is None:
        raise EventRefused("Say what happened: pick one of the list.")
    for sentence in _impossible(event, kind, facts, now):
        raise EventRefused(sentence)
    return kind


def _impossible(
    event: NewEvent, kind: EventKind, facts: CourseFacts, now: datetime
) -> Iterator[str]:
    yield from time_refused(facts, event.observed_at, now)
    if event.ended_at is not None and is_to_come(event.ended_at, now):
        yield "The time at which it ended is still to come."
    if (
        facts.ended_at is not None
        and max(event.observed_at, event.ended_at or event.observed_at) > facts.ended_at
    ):
        yield "The course had ended by that time."
    if kind.code == "other" and not event.words.strip():
        yield "Say in a few words what happened."
    if len(event.words.strip()) > LONGEST_WORDS:
        yield f"{len(event.words.strip())} characters: it takes {LONGEST_WORDS}."


def _neighbours_refuse(event: NewEvent, kind: EventKind, facts: CourseFacts) -> Iterator[str]:
    """What else is charted, or is not, that this event cannot stand beside."""
    if kind.lasts:
        yield from overlap_refused(facts.events, kind, event.observed_at, event.ended_at)
    elif event.ended_at is not None:
        yield "This happens at one moment: it has no end."
    if kind.code == SCREEN:
        yield from screen_refused(event.details)
    if kind.code == TRIAL:
        yield from trial_refused(facts.events, event.observed_at, event.details)
        if event.ended_at is not None:
            yield from outcome_refused(event.details)
        elif event.details.get("trial_outcome"):
            yield "Say when the trial ended."
