"""The lanes of a timeline: what lasted as bars, what happened as strokes, on one axis of time.

The list under them tells the same in words, so the picture is for the eye alone.
"""

from collections.abc import Iterator
from datetime import datetime
from itertools import pairwise

from app.charting.airways import REMOVED
from app.charting.events import EVENT_KINDS
from app.charting.facts import CourseFacts
from app.charting.handing_over import StepKind
from app.charting.mode_families import family_of
from app.pages import airway_words
from app.pages.known import Known
from app.pages.timeline_page import Lane, Span
from app.pages.trend_axes import TimeAxis, percent

State = tuple[datetime, str]
"""From when on something was so, and in which words; empty words for nothing."""


def lanes_of(course: Known, axis: TimeAxis) -> tuple[Lane, ...]:
    """Place, airway, mode; a lane for each lasting kind that was charted; the rest as strokes."""
    facts = course.facts
    lanes = [
        Lane("Place", _in_a_row([(s.from_at, s.bed or "") for s in facts.bed_stays], axis)),
        Lane("Airway", _in_a_row(list(_airways(facts)), axis)),
        Lane("Mode", _in_a_row(list(_modes(facts)), axis)),
        *_lasting(facts, axis),
        Lane("Events", moments=tuple(axis.at(moment) for moment in _single(facts, axis))),
        Lane("Handoffs", moments=tuple(axis.at(moment) for moment in _accepted(facts, axis))),
    ]
    return tuple(lane for lane in lanes if lane.spans or lane.moments)


def _in_a_row(states: list[State], axis: TimeAxis) -> tuple[Span, ...]:
    """One state after the other, each until the next begins."""
    ends = [*states, (axis.to_at, "")][1:]
    spans = (
        _span(axis, begun, until, words, goes_on=until == axis.to_at)
        for (begun, words), (until, _) in zip(states, ends, strict=True)
        if words and until > begun and begun < axis.to_at
    )
    return tuple(spans)


def _span(axis: TimeAxis, begun: datetime, until: datetime, words: str, *, goes_on: bool) -> Span:
    left, right = axis.share(begun), axis.share(until)
    return Span(percent(left), percent(right - left), words, goes_on)


def _airways(facts: CourseFacts) -> Iterator[State]:
    """Each tube, drawn once however often it was moved or secured."""
    for before, row in pairwise((None, *facts.airways)):
        if row is not None:
            words = "" if row.act == REMOVED else airway_words.tube(row)
            was = airway_words.tube(before) if before is not None and before.act != REMOVED else ""
            if words != was or before is None:
                yield row.observed_at, words


def _modes(facts: CourseFacts) -> Iterator[State]:
    before = ""
    for row in facts.standing:
        if row.mode_family and row.mode_family != before:
            yield row.observed_at, family_of(row.mode_family).label
            before = row.mode_family


def _lasting(facts: CourseFacts, axis: TimeAxis) -> Iterator[Lane]:
    for kind in EVENT_KINDS.values():
        of_it = [event for event in facts.events if event.kind == kind.code and kind.lasts]
        spans = tuple(
            _span(
                axis,
                event.observed_at,
                event.ended_at or axis.to_at,
                "",
                goes_on=not event.ended_at,
            )
            for event in of_it
            if event.observed_at < axis.to_at
        )
        yield Lane(kind.label, spans)


def _single(facts: CourseFacts, axis: TimeAxis) -> Iterator[datetime]:
    for event in facts.events:
        kind = EVENT_KINDS.get(event.kind)
        if (kind is None or not kind.lasts) and axis.holds(event.observed_at):
            yield event.observed_at


def _accepted(facts: CourseFacts, axis: TimeAxis) -> Iterator[datetime]:
    for step in facts.handoffs:
        if step.kind in (StepKind.ACCEPTED, StepKind.TAKEN) and axis.holds(step.at):
            yield step.at
