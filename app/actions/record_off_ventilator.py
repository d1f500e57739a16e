"""Chart that a patient with a tracheostomy breathes off the ventilator; its end is any event's."""

from app.actions.record_event import EventRefused, NewEvent, record_event
from app.charting.airways import has_tube
from app.charting.in_force import airway_at
from app.record.courses import course_facts
from app.record.writing import Writing


def begin_off(writing: Writing, course_id: str, event: NewEvent, *, save_key: str = "") -> str:
    """Keep that the session began; returns its id.

    Raises EventRefused without a tracheostomy in place, and what `record_event` raises.
    """
    airway = airway_at(course_facts(writing.session, course_id).airways, event.observed_at)
    if airway is None or not has_tube(airway) or airway.category != "trach":
        raise EventRefused(
            "No tracheostomy is in place: with another tube, a trial off the ventilator is a "
            "breathing trial."
        )
    return record_event(writing, course_id, event, save_key=save_key)
