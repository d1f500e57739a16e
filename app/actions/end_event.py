"""Chart that a state has ended: back from transport, turned supine, standby over."""

from dataclasses import asdict

from app.actions.record_event import EventRefused, NewEvent, checked
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
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
    going = going_on(facts.events, kind.code, end.observed_at)
    if going is None or going.observed_at == end.observed_at:
        raise EventRefused(f"“{kind.label}” is not charted as going on at that time.")
    row = EventEndRow(
        course_id=course_id, event_id=going.id, ended_at=end.observed_at, words=end.words.strip()
    )
    writing.add(row)
    writing.audit("end_event", course_id=course_id, subject=row)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id
