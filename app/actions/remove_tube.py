"""Take a tube out as planned: an extubation or a decannulation, with what was looked at before.

One write holds the event, the airway as it is from then on, and the row that says what the patient
breathes now: fields and mechanics follow from that row as from any other.
"""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal

from msgspec import Struct, field
from msgspec.structs import asdict

from app.actions.chart_assessment import write_check
from app.actions.note_reintubation import SETTINGS
from app.actions.record_airway import CUFF, AirwayRefused, NewAirway, row_of
from app.actions.record_event import TURNED, NewEvent, checked, write_details
from app.actions.refresh_summary import refresh_summary
from app.actions.rule_tasks import close_rule_task
from app.actions.sent_once import did_before, keep_sent
from app.charting.after_tube import AFTER_TUBE, ROOM_AIR_FIO2, AfterTube
from app.charting.airways import PLANNED_WORD, REMOVED
from app.charting.events import EVENT_KINDS, event_words
from app.charting.facts import CourseFacts, Kind, State
from app.charting.in_force import airway_at, going_on
from app.charting.liberation import (
    DECANNULATION,
    details_refused,
    removal_refused,
    told_in_short,
)
from app.charting.off_ventilator import OFF
from app.charting.typed_check import NewReading, TypedCheck
from app.record.courses import course_facts
from app.record.tables import AirwayRow, EventEndRow, EventRow
from app.record.writing import Writing

OF_THE_TUBE = frozenset({CUFF, TURNED, SETTINGS})
"""Rules whose tasks nobody can do once the tube is out."""


class Removal(Struct, frozen=True):
    """What was done (`extubation` or `decannulation`), when, and what is told with it.

    `details` go by the codes of `fields.liberation`; `leak_ml` is the leak as it was read.
    """

    act: str
    observed_at: datetime
    details: Mapping[str, str] = field(default_factory=dict)
    leak_ml: Decimal | None = None


def remove_tube(writing: Writing, course_id: str, removal: Removal, *, save_key: str = "") -> str:
    """Keep it and end invasive support at that moment; returns the event's id.

    Raises AirwayRefused for what the airway in place or the form does not allow, EventRefused for
    an impossible time, KeyReused, and NotFound.
    """
    content = asdict(removal)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    told = NewEvent(removal.act, removal.observed_at, details=removal.details)
    checked(told, facts, writing.recorded_at)
    airway = _airway(facts, removal, writing.recorded_at)
    event = _event(course_id, removal)
    writing.add(event, airway)
    writing.audit("remove_tube", course_id=course_id, subject=event)
    writing.audit("record_airway", course_id=course_id, subject=airway)
    write_details(writing, course_id, event.id, told)
    leave_tube(writing, facts, removal.observed_at)
    after = AFTER_TUBE[removal.details["breathes_now"]]
    write_support(writing, facts, after, removal.observed_at, event.words, removal.leak_ml)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, event.id)
    return event.id


def _airway(facts: CourseFacts, removal: Removal, now: datetime) -> AirwayRow:
    """The airway after it: a stoma stays open for a while, a mouth does not."""
    before = airway_at(facts.airways, removal.observed_at)
    for sentence in (
        *removal_refused(removal.act, before),
        *details_refused(removal.act, removal.details),
    ):
        raise AirwayRefused(sentence)
    after = AFTER_TUBE[removal.details["breathes_now"]]
    through = "stoma" if removal.act == DECANNULATION else after.airway
    planned = NewAirway(through, act=REMOVED, observed_at=removal.observed_at, words=PLANNED_WORD)
    return row_of(facts, planned, now)


def _event(course_id: str, removal: Removal) -> EventRow:
    kind = EVENT_KINDS[removal.act]
    return EventRow(
        course_id=course_id,
        kind=kind.code,
        observed_at=removal.observed_at,
        words=event_words(kind, told_in_short(removal.act, removal.details)),
    )


def leave_tube(writing: Writing, facts: CourseFacts, at: datetime) -> None:
    """What ends with the tube: readings of its cuff and mark, and a session off the ventilator."""
    for task in facts.tasks:
        if task.rule in OF_THE_TUBE and task.is_open:
            close_rule_task(writing, facts.course_id, task, "the tube is out")
    session = going_on(facts.events, OFF, at)
    if session is not None and session.ended_at is None:
        end = EventEndRow(course_id=facts.course_id, event_id=session.id, ended_at=at)
        writing.add_as("end_event", end, course_id=facts.course_id)


def write_support(
    writing: Writing,
    facts: CourseFacts,
    after: AfterTube,
    at: datetime,
    why: str,
    leak_ml: Decimal | None = None,
) -> None:
    """The row from which on the patient breathes in that way; nothing is measured in it but a leak.

    Room air is the one oxygen that needs no setting.
    """
    readings = [NewReading("change_reason", State.MEASURED, word=why)]
    if leak_ml is not None:
        readings.append(NewReading("cuff_leak_ml", State.MEASURED, leak_ml, raw=f"{leak_ml:f}"))
    if after.code == "room_air":
        oxygen = Decimal(ROOM_AIR_FIO2)
        readings.append(NewReading("fio2_set", State.CHANGED, oxygen, raw=ROOM_AIR_FIO2))
    check = TypedCheck(Kind.EVENT, at, after.family)
    write_check(writing, facts.course_id, check, readings)
