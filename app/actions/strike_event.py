"""Strike an event, or its end: it stays readable, and nothing is worked out from it any more."""

from app.actions.give_reason import reason_in
from app.actions.next_task import next_task
from app.actions.record_airway import NewAirway
from app.actions.record_event import EventRefused, add_said
from app.actions.refresh_summary import refresh_summary
from app.actions.strike_assessment import add_strike
from app.charting.episodes import EPISODE_ACTS, Phase
from app.charting.event_facts import Event
from app.charting.facts import Airway, CourseFacts
from app.charting.handing_over import TaskState
from app.charting.striking import end_strike_refused, strike_refused, written_along
from app.record.courses import course_facts
from app.record.errors import Conflict, NotFound
from app.record.ids import same_write
from app.record.tables import AirwayRow, EventEndRow, EventRow
from app.record.writing import Writing


def strike_event(
    writing: Writing, course_id: str, event_id: str, reason: str, *, seen: str = ""
) -> None:
    """Strike an event, with what the same act wrote beside it.

    `seen` names the version that was looked at. Raises ReasonRefused, EventRefused for what would
    stand on nothing then, NotFound, and Conflict where somebody was faster.
    """
    why = reason_in(reason)
    facts = course_facts(writing.session, course_id)
    event = standing_event(facts, event_id, seen)
    for sentence in strike_refused(facts, event):
        raise EventRefused(sentence)
    row = EventRow(
        supersedes_id=event.version_id,
        course_id=course_id,
        kind=event.kind,
        observed_at=event.observed_at,
        words=event.words,
        struck=why,
    )
    writing.add_as("strike_event", row, course_id=course_id)
    _strike_along(writing, facts, event, why)
    _take_back_tasks(writing, facts, event.id)
    refresh_summary(writing, course_id)


def strike_event_end(
    writing: Writing, course_id: str, event_id: str, reason: str, *, seen: str = ""
) -> None:
    """Strike the end of a state, which goes on then; raises what `strike_event` raises."""
    why = reason_in(reason)
    facts = course_facts(writing.session, course_id)
    event = standing_event(facts, event_id)
    if not event.end_version_id or (seen and seen != event.end_version_id):
        raise Conflict("the end was struck or corrected meanwhile")
    for sentence in end_strike_refused(facts, event):
        raise EventRefused(sentence)
    _strike_end(writing, facts, event, why)
    _take_back_tasks(writing, facts, event.end_id)
    refresh_summary(writing, course_id)


def standing_event(facts: CourseFacts, event_id: str, seen: str = "") -> Event:
    """An event that is not struck, in the version that was seen. Raises NotFound and Conflict."""
    for event in facts.events:
        if event.id == event_id:
            if seen and seen != event.version_id:
                raise Conflict("the event was corrected meanwhile")
            return event
    if any(event.id == event_id for event in facts.struck_events):
        raise Conflict("the event is struck already")
    raise NotFound("event", event_id)


def _strike_end(writing: Writing, facts: CourseFacts, event: Event, why: str) -> None:
    if event.ended_at is None:
        return
    row = EventEndRow(
        supersedes_id=event.end_version_id,
        course_id=facts.course_id,
        event_id=event.id,
        ended_at=event.ended_at,
        words=event.end_words,
        struck=why,
    )
    writing.add_as("strike_event_end", row, course_id=facts.course_id)
    _unsay_with_end(writing, facts, event)


def _unsay_with_end(writing: Writing, facts: CourseFacts, event: Event) -> None:
    """Take out of the details what was said of the end: an outcome must not outlive it."""
    codes = _told_at_end(event.kind)
    for said in event.said:
        with_end = same_write(said.id, event.end_id) and not same_write(said.id, event.id)
        left = {} if with_end else {k: v for k, v in said.values.items() if k not in codes}
        if left != said.values:
            course, at, old = facts.course_id, said.observed_at, said.version_id
            add_said(writing, course, event.id, at, left, instead_of=old)


def _told_at_end(kind: str) -> frozenset[str]:
    """What a kind tells with its end alone."""
    found = {act.phase: act for act in EPISODE_ACTS.values() if act.kind == kind}
    if Phase.END not in found:
        return frozenset()
    begin = found[Phase.BEGIN]
    return frozenset({*begin.at_end, *found[Phase.END].asks} - {*begin.asks} - {"prone_skin"})


def _strike_along(writing: Writing, facts: CourseFacts, event: Event, why: str) -> None:
    """The airway and the rows that an event of a tube wrote, and what it ended."""
    along = written_along(facts, event)
    for airway in along.airways:
        writing.add(_struck_airway(facts.course_id, airway, why))
        writing.audit("strike_airway", course_id=facts.course_id, subject=("airway", airway.id))
    for row in along.rows:
        add_strike(writing, facts.course_id, row.id, why)
    for ended in facts.events:
        if ended.id != event.id and same_write(ended.end_id, event.id):
            _strike_end(writing, facts, ended, why)


def _struck_airway(course_id: str, airway: Airway, why: str) -> AirwayRow:
    return AirwayRow(
        supersedes_id=airway.id,
        course_id=course_id,
        struck=why,
        **{name: getattr(airway, name) for name in NewAirway.__struct_fields__},
    )


def _take_back_tasks(writing: Writing, facts: CourseFacts, key: str) -> None:
    """What the write that is struck opened is not to be done; what it closed is open again."""
    for task in facts.tasks:
        if same_write(task.version_id, key):
            state = TaskState.NOT_DONE if task.is_open else TaskState.OPEN
            row = next_task(facts.course_id, task, state, "the event was struck")
            writing.add_as("take_back_task", row, course_id=facts.course_id)
