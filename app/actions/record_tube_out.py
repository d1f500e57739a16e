"""Record that a tube came out unplanned: the event and the airway, in one write, in one press.

Whoever stands at the bed has no hand free. What the patient breathes now, how the tube came out and
whether another went in are told later; each leaves an open task until then.
"""

from datetime import datetime, timedelta

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.chart_assessment import write_check
from app.actions.record_airway import NewAirway, row_of
from app.actions.record_event import NewEvent, checked
from app.actions.refresh_summary import refresh_summary
from app.actions.remove_tube import leave_tube
from app.actions.rule_tasks import RuleTask, open_rule_tasks
from app.actions.sent_once import did_before, keep_sent
from app.charting.airways import REMOVED, UNPLANNED_WORD
from app.charting.events import event_words
from app.charting.facts import Kind, State
from app.charting.liberation import OPEN_AFTER, UNPLANNED
from app.charting.typed_check import NewReading, TypedCheck
from app.record.courses import course_facts
from app.record.tables import EventRow
from app.record.writing import Writing

TOLD_WITHIN = timedelta(hours=1)
"""When what was left open is to be told (engineering judgement)."""


class TubeOut(Struct, frozen=True):
    """When it was found out, with words where somebody has time for them."""

    observed_at: datetime
    words: str = ""


def record_tube_out(writing: Writing, course_id: str, out: TubeOut, *, save_key: str = "") -> str:
    """Keep the event and the removal, end invasive support at that moment; returns the event's id.

    Raises AirwayRefused where no tube is in place, EventRefused, KeyReused, and NotFound.
    """
    content = {"tube_out": True, **asdict(out)}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    told = NewEvent(UNPLANNED, out.observed_at, out.words)
    kind = checked(told, facts, writing.recorded_at)
    removal = NewAirway(
        act=REMOVED, observed_at=out.observed_at, words=UNPLANNED_WORD, why=out.words
    )
    airway = row_of(facts, removal, writing.recorded_at)
    event = EventRow(
        course_id=course_id,
        kind=kind.code,
        observed_at=out.observed_at,
        words=event_words(kind, out.words.strip()),
    )
    writing.add(event, airway)
    writing.audit("record_tube_out", course_id=course_id, subject=event)
    writing.audit("record_airway", course_id=course_id, subject=airway)
    leave_tube(writing, facts, out.observed_at)
    # A row of its own, so that rules that walk the chart see the mode end: no plateau is owed now.
    ended = NewReading("change_reason", State.MEASURED, word=kind.label)
    write_check(writing, course_id, TypedCheck(Kind.EVENT, out.observed_at, ""), [ended])
    open_rule_tasks(writing, facts, _open_after(out.observed_at))
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, event.id)
    return event.id


def _open_after(at: datetime) -> list[RuleTask]:
    return [RuleTask(rule, words, at + TOLD_WITHIN) for rule, words in OPEN_AFTER.items()]
