"""Time that a patient breathes off the ventilator: through a tracheostomy, or with the tube out.

Through a tracheostomy it is told twice over: as a session with its beginning and end, and by the
mode that was charted meanwhile. Either counts, and where both do, their hours count once.
"""

from collections.abc import Iterable, Iterator
from datetime import datetime

from msgspec import Struct

from app.charting.airways import has_tube, tubes_moved
from app.charting.facts import CourseFacts
from app.charting.mode_families import family_of

OFF = "off_ventilator"
"""The kind of event that begins a session on a tracheostomy mask or a T-piece."""


class Span(Struct, frozen=True):
    """From one moment to another; `until` is None where it goes on."""

    from_at: datetime
    until: datetime | None


def invasive_since(facts: CourseFacts) -> datetime:
    """When invasive support began: with the first tube, or with the course where it had one.

    A course in which nobody charted a tube counts from its own beginning.
    """
    first = next((airway for airway in facts.airways if has_tube(airway)), None)
    if first is None or has_tube(facts.airways[0]):
        return facts.support_started_at
    return first.observed_at


def off_invasive(facts: CourseFacts) -> tuple[Span, ...]:
    """When there was no invasive support since it began, for whichever reason; none overlap."""
    return _joined((*_without_tube(facts), *off_sessions(facts)))


def off_sessions(facts: CourseFacts) -> tuple[Span, ...]:
    """When the patient breathed off the ventilator through a tracheostomy; none overlap."""
    told = [Span(e.observed_at, e.ended_at) for e in facts.events if e.kind == OFF]
    trachs = tuple(_with_tracheostomy(facts))
    return _joined(
        clipped
        for span in (*told, *_charted(facts))
        for trach in trachs
        for clipped in _clipped(span, trach)
    )


def _without_tube(facts: CourseFacts) -> Iterator[Span]:
    return _as_long_as((moved.at, not moved.went_in) for moved in tubes_moved(facts.airways))


def _with_tracheostomy(facts: CourseFacts) -> Iterator[Span]:
    return _as_long_as(
        (airway.observed_at, has_tube(airway) and airway.category == "trach")
        for airway in facts.airways
    )


def _charted(facts: CourseFacts) -> Iterator[Span]:
    """When the mode charted last was one in which the patient does all the work."""
    modes = ((row.observed_at, row.mode_family) for row in facts.standing if row.mode_family)
    families = ((at, family_of(mode)) for at, mode in modes)
    return _as_long_as((at, not f.invasive and not f.ventilates) for at, f in families)


def _as_long_as(steps: Iterable[tuple[datetime, bool]]) -> Iterator[Span]:
    """From each step that says yes to the next that says no, oldest first."""
    since: datetime | None = None
    for at, holds in steps:
        if not holds and since is not None:
            yield Span(since, at)
        if not holds:
            since = None
        elif since is None:
            since = at
    if since is not None:
        yield Span(since, None)


def _clipped(span: Span, within: Span) -> Iterator[Span]:
    from_at = max(span.from_at, within.from_at)
    ends = [end for end in (span.until, within.until) if end is not None]
    until = min(ends, default=None)
    if until is None or from_at < until:
        yield Span(from_at, until)


def _joined(spans: Iterable[Span]) -> tuple[Span, ...]:
    """The same time without overlaps, oldest first."""
    found: list[Span] = []
    for span in sorted(spans, key=lambda each: each.from_at):
        last = found[-1] if found else None
        if last is None or (last.until is not None and span.from_at > last.until):
            found.append(span)
        elif last.until is not None:
            later = None if span.until is None else max(last.until, span.until)
            found[-1] = Span(last.from_at, later)
    return tuple(found)
