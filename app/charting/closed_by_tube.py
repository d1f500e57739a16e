"""A breathing trial that was open when the tube came out ended with the tube, whoever wrote what.

Nothing is written for it: the end follows from the airway, so that it moves, or is gone, with it.
Somebody may still chart how the trial ended.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime

from msgspec.structs import replace

from app.charting.airways import tubes_moved
from app.charting.episodes import TRIAL
from app.charting.event_facts import Event
from app.charting.facts import Airway
from app.charting.liberation import DECANNULATION, EXTUBATION, UNPLANNED

BY_ITSELF = "closed: the tube came out"
_BY = {
    EXTUBATION: "closed by the extubation",
    DECANNULATION: "closed by the decannulation",
    UNPLANNED: "closed: the tube came out unplanned",
}


def closed_by_tube(events: Iterable[Event], airways: Iterable[Airway]) -> tuple[Event, ...]:
    """The events, with the end in place of each trial that a removed tube ended."""
    known = tuple(events)
    if not any(_is_open(event) for event in known):
        return known
    out = [moved.at for moved in tubes_moved(airways) if not moved.went_in]
    told = {event.observed_at: _BY[event.kind] for event in known if event.kind in _BY}
    return tuple(_closed(event, out, told) if _is_open(event) else event for event in known)


def _closed(trial: Event, out: list[datetime], told: Mapping[datetime, str]) -> Event:
    at = next((at for at in out if at > trial.observed_at), None)
    if at is None:
        return trial
    return replace(trial, ended_at=at, end_words=told.get(at, BY_ITSELF))


def _is_open(event: Event) -> bool:
    return event.kind == TRIAL and event.ended_at is None
