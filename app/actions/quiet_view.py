"""Say that support is withdrawn: limits, flags and due items are muted until somebody ends that.

Nothing is deleted and charting goes on. Who ordered it stands in every place where a flag would.
"""

from datetime import datetime

from msgspec import Struct

from app.actions.end_event import end_event
from app.actions.record_event import EventRefused, NewEvent, record_event
from app.charting.events import COMFORT
from app.record.writing import Writing


class Quiet(Struct, frozen=True):
    """From when on, by whose order, and what was agreed; at its end, why."""

    at: datetime
    ordered_by: str
    words: str = ""


def begin_quiet(writing: Writing, course_id: str, quiet: Quiet, *, save_key: str = "") -> str:
    """Mute the course from then on; returns the event's id. Raises what `record_event` raises."""
    ordered_by = quiet.ordered_by.strip()
    if not ordered_by:
        raise EventRefused("Write who ordered it: a therapist mutes nothing on their own.")
    words = "; ".join(filter(None, (f"ordered by {ordered_by}", quiet.words.strip())))
    return record_event(writing, course_id, NewEvent(COMFORT, quiet.at, words), save_key=save_key)


def end_quiet(writing: Writing, course_id: str, quiet: Quiet, *, save_key: str = "") -> str:
    """Judge and remind again from then on; returns the end's id. Raises what `end_event` raises."""
    ordered_by = quiet.ordered_by.strip()
    if not ordered_by:
        raise EventRefused("Write who ordered its end.")
    words = "; ".join(filter(None, (f"ordered by {ordered_by}", quiet.words.strip())))
    return end_event(writing, course_id, NewEvent(COMFORT, quiet.at, words), save_key=save_key)
