"""Time that a patient breathes off the ventilator: through a tracheostomy, or with the tube out.

Through a tracheostomy it is told twice over: as a session with its beginning and end, and by the
mode that was charted meanwhile. Either counts, and where both do, their hours count once.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from app.charting.airways import has_tube, tubes_moved
from app.charting.facts import CourseFacts
from app.charting.mode_families import family_of

OFF = "off_ventilator"
"""The kind of event that begins a session on a tracheostomy mask or a T-piece."""


@dataclass(frozen=True, slots=True)
class Span:
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
    out: datetime | None = None
    for moved in tubes_moved(facts.airways):
        if moved.went_in and out is not None:
            yield Span(out, moved.at)
        out = None if moved.went_in else moved.at
    if out is not None:
        yield Span(out, None)


def _with_tracheostomy(facts: CourseFacts) -> Iterator[Span]:
    since: datetime | None = None
    for airway in facts.airways:
        is_trach = has_tube(airway) and airway.category == "trach"
        if since is not None and not is_trach:
            yield Span(since, airway.observed_at)
        if not is_trach:
            since = None
        elif since is None:
            since = airway.observed_at
    if since is not None:
        yield Span(since, None)


def _charted(facts: CourseFacts) -> Iterator[Span]:
    """When the mode charted last was one in which the patient does all the work."""
    since: datetime | None = None
    for row in facts.standing:
        if not row.mode_family:
            continue
        family = family_of(row.mode_family)
        off = not family.invasive and not family.ventilates
        if since is not None and not off:
            yield Span(since, row.observed_at)
        if not off:
            since = None
        elif since is None:
            since = row.observed_at
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
