"""The whole unit's history as entries in the order in which they were written down."""

from collections.abc import Iterator
from datetime import timedelta

from msgspec import Struct

from seed_demo.bedside import BedsideRun
from seed_demo.entries import Accepted, Admitted, Entry, Noted, Offered, Planned, Taken
from seed_demo.shift import HANDOFF, Span
from seed_demo.stories import STORIES
from seed_demo.story import Bedside, Story

ONE_NOTE = timedelta(minutes=2)
AFTER_ARRIVAL = timedelta(minutes=5)
EARLIER_HEADINGS = ("course",)
"""Headings that stand since the handoff before the newest; nobody writes them anew each time."""


SHIFT_BEGINS = timedelta(minutes=35)
"""From the notes to the bedside handoff of the same bed."""
TAKEN_BEFORE = timedelta(hours=10)
RESTATED = "Gone through at the bed: what changed, what is due, whom to call."


class Line(Struct, frozen=True):
    """One entry with the bed whose patient it is about."""

    bed: str
    entry: Entry


def history(span: Span, seed: int) -> list[Line]:
    """Every entry of every bed until `span.now`, oldest writing first; the same for a same seed."""
    lines = [
        line for place, story in enumerate(STORIES) for line in _lines(story, place, span, seed)
    ]
    kept = [line for line in lines if line.entry.recorded_at <= span.now]
    return sorted(kept, key=lambda line: line.entry.recorded_at)


def _lines(story: Story, place: int, span: Span, seed: int) -> Iterator[Line]:
    if story.bedside is None:
        return
    run = BedsideRun(story.bedside, place, span, seed)
    yield Line(story.bed, _admission(story.bedside, run, span))
    for entry in run.entries():
        yield Line(story.bed, entry)
    for entry in _notes(story.bedside, place, span):
        yield Line(story.bed, entry)
    for entry in _handed_over(story.bedside, place, span):
        yield Line(story.bed, entry)


def _admission(bedside: Bedside, run: BedsideRun, span: Span) -> Entry:
    at = max(run.started + AFTER_ARRIVAL, span.opened + timedelta(minutes=1))
    return Admitted(at, span.on_duty(at, bedside.by_day), run.started)


def _notes(bedside: Bedside, place: int, span: Span) -> Iterator[Entry]:
    """What stood already at the handoff before, then what was written for the newest one."""
    newest = span.newest_notes(ONE_NOTE * place)
    for at, earlier in ((newest - HANDOFF, True), (newest, False)):
        words = {
            name: text
            for name, text in bedside.notes.items()
            if (name in EARLIER_HEADINGS) is earlier
        }
        if words:
            yield Noted(at, span.on_duty(at, bedside.by_day), words)


def _handed_over(bedside: Bedside, place: int, span: Span) -> Iterator[Entry]:
    """Who had the bed, what they left to do, to whom they offered it, and who accepted."""
    newest = span.newest_notes(ONE_NOTE * place)
    began = (
        max(bedside.started.before(span.now, span.clock), span.opened) + AFTER_ARRIVAL + ONE_NOTE
    )
    giver = span.on_duty(newest, bedside.by_day)
    receiver = span.on_duty(newest + SHIFT_BEGINS + ONE_NOTE, bedside.by_day)
    if not bedside.notes or giver == receiver:
        return
    yield Taken(max(newest - TAKEN_BEFORE, began), giver)
    yield Planned(newest + timedelta(seconds=20), giver, bedside.plan)
    yield Offered(newest + timedelta(seconds=40), giver, receiver)
    yield Accepted(newest + SHIFT_BEGINS, receiver, RESTATED)
