"""The line of an event taken apart: its kind, its details in short, and a person's own words."""

from app.charting.episodes import told_in_short
from app.charting.event_facts import Event
from app.charting.events import EVENT_KINDS, event_words
from app.charting.liberation import own_words


def typed_words(event: Event) -> str:
    """What a person typed, without the kind and without what its details say in short."""
    said, told = own_words(event), _told(event)
    return said.removeprefix(told).removeprefix("; ") if told and said.startswith(told) else said


def line_with(event: Event, words: str) -> str:
    """The line with other words in it; what the details say in short stays."""
    told = _told(event)
    kept = told if told and own_words(event).startswith(told) else ""
    return event_words(EVENT_KINDS[event.kind], "; ".join(filter(None, (kept, words))))


def _told(event: Event) -> str:
    first = event.said[0] if event.said else None
    if first is None or first.observed_at != event.observed_at:
        return ""
    return told_in_short(event.kind, first.values)
