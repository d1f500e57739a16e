"""Build the timeline of a course: everything that began, ended or happened, by day.

Events are told by what `charting.events` says of their kind, so that a kind which is added there
appears here by itself, with a lane of its own where it lasts.
"""

from collections.abc import Iterator
from datetime import datetime
from itertools import groupby, pairwise

from msgspec import Struct
from msgspec.structs import replace

from app.charting.course_ends import end_words
from app.charting.episodes import IN_ITS_LINE, SCREEN
from app.charting.event_facts import Event
from app.charting.events import EVENT_KINDS
from app.charting.facts import CourseFacts
from app.charting.fields.episodes import SCREEN_ITEMS
from app.charting.handing_over import StepKind
from app.charting.mode_families import family_of
from app.pages import airway_words
from app.pages.day_words import day_words
from app.pages.episode_words import detail_words, lasted_words
from app.pages.frame import Frame
from app.pages.known import Known
from app.pages.one_event import put_right_words, struck_words
from app.pages.timeline_lanes import lanes_of
from app.pages.timeline_page import TimelineDay, TimelineLine, TimelinePage
from app.pages.times import clock_time, when_in
from app.pages.trend_axes import ticks, time_axis
from app.rules.ventilator_day import counted, day_rule


class Told(Struct, frozen=True):
    """One thing with its moment, before it is put under its day."""

    at: datetime
    what: str
    words: str
    author: str = ""
    href: str = ""
    undone: str = ""


def timeline_page(frame: Frame, course: Known) -> TimelinePage:
    """The whole course of one patient; what is to come is not on it."""
    facts, now, clock = course.facts, course.now, course.clock
    end = min(facts.ended_at, now) if facts.ended_at else now
    axis = time_axis("all", facts.support_started_at, end)
    start, stop = (clock_time(moment, now, clock) for moment in (facts.support_started_at, end))
    return TimelinePage(
        frame=frame,
        banner=course.banner,
        span_words=f"{start} to {stop}",
        ticks=ticks(axis, clock),
        lanes=lanes_of(course, axis),
        days=_days(course),
        day_rule=day_rule(course.policy.ventilator_gap_days),
        back_href=f"/courses/{facts.course_id}",
    )


def told_of(facts: CourseFacts) -> list[Told]:
    """Everything of a course that has a moment and is no reading, oldest first."""
    told = [
        Told(facts.support_started_at, "Course", "Support began"),
        *_places(facts),
        *_airways(facts),
        *_modes(facts),
        *(line for event in facts.events for line in _event(event, facts)),
        *_handoffs(facts),
        *_ends(facts),
    ]
    return sorted(told, key=lambda each: each.at)


def _places(facts: CourseFacts) -> Iterator[Told]:
    before = ""
    for stay in facts.bed_stays:
        place = stay.bed or "out of the unit"
        words = f"{before} → {place}" if before else f"In {place}"
        why = f": {stay.words}" if stay.words else ""
        yield Told(stay.from_at, "Place", f"{words}{why}", stay.author)
        before = place


def _airways(facts: CourseFacts) -> Iterator[Told]:
    for before, row in pairwise((None, *facts.airways)):
        if row is not None:
            why = f": {row.why}" if row.why else ""
            words = f"{airway_words.line(row, before)}{why}"
            href = f"/courses/{facts.course_id}/airway"
            yield Told(row.observed_at, "Airway", words, row.author, href)


def _modes(facts: CourseFacts) -> Iterator[Told]:
    before = ""
    for row in facts.standing:
        if row.mode_family and row.mode_family != before:
            label = family_of(row.mode_family).label
            words = f"{family_of(before).label} → {label}" if before else label
            href = f"/courses/{facts.course_id}/rows/{row.id}"
            yield Told(row.observed_at, "Mode", words, row.author, href)
            before = row.mode_family


def _event(event: Event, facts: CourseFacts) -> Iterator[Told]:
    """Its beginning or only moment, what was said of it later, and its end where it has one."""
    href = f"/courses/{facts.course_id}/events/{event.id}"
    kind = EVENT_KINDS.get(event.kind)
    label = kind.label if kind is not None else event.kind
    first, last = event.observed_at, event.ended_at
    more = _said_at(event, first, without=SAID_BY_THE_LINE.get(event.kind, ()))
    yield Told(first, "Event", _joined(event.words or label, more), event.author, href)
    for said in event.said:
        if said.observed_at not in (first, last):
            told = _joined(label, detail_words(said))
            yield Told(said.observed_at, "Event", told, said.author, href)
    if last is not None:
        ends = kind.ends if kind is not None and kind.ends else f"{label} ended"
        words = _joined(f"{ends} after {lasted_words(event)}", event.end_words)
        yield Told(last, "Event", _joined(words, _said_at(event, last)), href=href)


def _undone(course: Known) -> Iterator[Told]:
    """What was struck or corrected, at the time at which it had been charted."""
    facts = course.facts
    for event in (*facts.events, *facts.struck_events):
        href = f"/courses/{facts.course_id}/events/{event.id}"
        if event.struck:
            struck = struck_words(event, course)
            yield Told(event.observed_at, "Event", event.words, event.author, href, struck)
        for put in event.put_right:
            label = EVENT_KINDS[event.kind].ends if event.kind in EVENT_KINDS else ""
            words = _joined(label, put.words) if put.of_end else put.words
            yield Told(put.at, "Event", words, put.author, href, put_right_words(put, course))
    for airway in facts.struck_airways:
        if airway.struck_at is not None:
            at = clock_time(airway.struck_at, course.now, course.clock)
            struck = f"Struck {at} by {airway.struck_by}: {airway.struck}"
            words, href = airway_words.line(airway, None), f"/courses/{facts.course_id}/airway"
            yield Told(airway.observed_at, "Airway", words, airway.author, href, struck)


SAID_BY_THE_LINE = {**IN_ITS_LINE, SCREEN: (*SCREEN_ITEMS, "screen_not_done")}
"""Details that the words of an event hold already; a screen's line names what spoke against it."""


def _said_at(event: Event, at: datetime, *, without: tuple[str, ...] = ()) -> str:
    told = (detail_words(each, without=without) for each in event.said if each.observed_at == at)
    return ", ".join(filter(None, told))


def _joined(*parts: str) -> str:
    return "; ".join(filter(None, parts))


def _handoffs(facts: CourseFacts) -> Iterator[Told]:
    for step in facts.handoffs:
        if step.kind is StepKind.ACCEPTED:
            giver = f" from {step.from_name}" if step.from_name else ""
            yield Told(step.at, "Handoff", f"{step.author} accepted{giver}", step.author)
        elif step.kind is StepKind.TAKEN:
            yield Told(step.at, "Handoff", f"{step.author} took the bed", step.author)


def _ends(facts: CourseFacts) -> Iterator[Told]:
    for end in facts.ends:
        if end.ended_at is not None:
            words = f"Closed: {end_words(end.kind, end.words)}"
            yield Told(end.ended_at, "Course", words, end.author)
        else:
            words = f"The end was taken back: {end.words}"
            yield Told(end.written_at, "Course", words, end.author)


def _days(course: Known) -> tuple[TimelineDay, ...]:
    clock = course.clock
    every = sorted((*told_of(course.facts), *_undone(course)), key=lambda each: each.at)
    newest_first = reversed(every)
    by_day = groupby(newest_first, key=lambda each: clock.day(each.at))
    return tuple(_day(course, tuple(found)) for _, found in by_day)


def _day(course: Known, found: tuple[Told, ...]) -> TimelineDay:
    at, clock = found[0].at, course.clock
    return TimelineDay(
        heading=f"{clock.local(at):%a} {clock.local(at).day} {clock.local(at):%b %Y}",
        day=_day_number(course, at),
        lines=tuple(
            TimelineLine(
                when=when_in(each.at, each.at, clock),
                what=each.what,
                words=each.words,
                author=each.author,
                href=each.href,
                undone=each.undone,
            )
            for each in found
        ),
    )


def _day_number(course: Known, at: datetime) -> str:
    """The ventilator day as it stood at that moment: what came later is left aside."""
    facts = course.facts
    by_then = replace(
        facts,
        airways=tuple(row for row in facts.airways if row.observed_at <= at),
        events=tuple(event for event in facts.events if event.observed_at <= at),
        assessments=tuple(row for row in facts.assessments if row.observed_at <= at),
    )
    days = counted(by_then, course.policy.ventilator_gap_days, course.clock)
    return day_words(days, at, course.clock)
