"""Tell what a tube that came out unplanned left open: what is breathed now, how, and what followed.

Each can be told by itself; what is told closes its task, and the event's line says how it came out.
"""

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.record_airway import AirwayRefused, NewAirway, row_of
from app.actions.record_event import NewEvent, checked
from app.actions.refresh_summary import refresh_summary
from app.actions.remove_tube import write_support
from app.actions.rule_tasks import close_rule_task
from app.actions.sent_once import did_before, keep_sent
from app.charting.after_tube import AFTER_TUBE
from app.charting.airways import PLACED, has_tube
from app.charting.event_facts import Event
from app.charting.events import EVENT_KINDS, event_words
from app.charting.facts import CourseFacts
from app.charting.in_force import airway_at
from app.charting.liberation import AGAIN, BREATHES, HOW, UNPLANNED
from app.record.courses import course_facts
from app.record.tables import EventRow
from app.record.writing import Writing


class ToldOfTubeOut(Struct, frozen=True):
    """What is known by now; empty where it is still open. `observed_at` is since when it is so."""

    observed_at: datetime
    breathes_now: str = ""
    how: str = ""
    not_again: bool = False


def tell_of_tube_out(
    writing: Writing, course_id: str, told: ToldOfTubeOut, *, save_key: str = ""
) -> str:
    """Keep what is told, close its tasks; returns the event's id.

    Raises AirwayRefused where nothing of it is open, EventRefused, KeyReused, and NotFound.
    """
    content = asdict(told)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    checked(NewEvent(UNPLANNED, told.observed_at), facts, writing.recorded_at)
    event = next((e for e in reversed(facts.events) if e.kind == UNPLANNED), None)
    for sentence in _refused(facts, event, told):
        raise AirwayRefused(sentence)
    if event is None:  # refused above; said once more for the types
        raise AirwayRefused("No unplanned extubation is recorded.")
    if told.breathes_now:
        _breathes(writing, facts, told)
    if told.how:
        _how(writing, facts, event, told.how)
    if told.not_again:
        close_open(writing, facts, AGAIN, "not re-intubated")
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, event.id)
    return event.id


def close_open(writing: Writing, facts: CourseFacts, rule: str, reason: str) -> None:
    """Close the task under this rule, where it is open."""
    for task in facts.tasks:
        if task.rule == rule and task.is_open:
            close_rule_task(writing, facts.course_id, task, reason)


def _refused(facts: CourseFacts, event: Event | None, told: ToldOfTubeOut) -> Iterator[str]:
    is_open = {task.rule for task in facts.tasks if task.is_open}
    if event is None:
        yield "No unplanned extubation is recorded."
        return
    if told.observed_at < event.observed_at:
        yield "The time is before the tube came out."
    asked = {BREATHES: told.breathes_now, HOW: told.how, AGAIN: told.not_again}
    if not any(asked.values()):
        yield "Write at least one of them."
    for rule, said in asked.items():
        if said and rule not in is_open:
            yield _SETTLED[rule]
    airway = airway_at(facts.airways, told.observed_at)
    if told.breathes_now and has_tube(airway):
        yield "A tube is in place: chart the settings of the ventilator."
    if told.breathes_now and told.breathes_now not in AFTER_TUBE:
        yield "Say what the patient breathes now."


_SETTLED = {
    BREATHES: "What the patient breathes has been told already: chart a check.",
    HOW: "How it came out has been told already.",
    AGAIN: "Whether a tube went in again has been told already.",
}


def _breathes(writing: Writing, facts: CourseFacts, told: ToldOfTubeOut) -> None:
    after = AFTER_TUBE[told.breathes_now]
    if after.airway != "none":
        placed = NewAirway(after.airway, act=PLACED, observed_at=told.observed_at)
        row = row_of(facts, placed, writing.recorded_at)
        writing.add_as("record_airway", row, course_id=facts.course_id)
    label = EVENT_KINDS[UNPLANNED].label
    write_support(writing, facts, after, told.observed_at, f"After: {label.lower()}")
    close_open(writing, facts, BREATHES, after.label)


def _how(writing: Writing, facts: CourseFacts, event: Event, how: str) -> None:
    """The event anew, with a person's words behind its label; what it said before stays."""
    row = EventRow(
        supersedes_id=event.version_id,
        course_id=facts.course_id,
        kind=event.kind,
        observed_at=event.observed_at,
        words=event_words(EVENT_KINDS[event.kind], how),
    )
    writing.add_as("tell_of_tube_out", row, course_id=facts.course_id)
    close_open(writing, facts, HOW, how)
