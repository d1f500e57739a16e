"""Build the page of one event: what was charted, what it was before, how it is put right."""

from collections.abc import Iterator
from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace

from app.charting.episodes import outcome_words
from app.charting.event_facts import Event, PutRight
from app.charting.event_line import typed_words
from app.charting.events import EVENT_KINDS
from app.charting.liberation import UNPLANNED
from app.charting.striking import OF_A_TUBE, WrittenAlong, written_along
from app.pages.assess_head import observed_input
from app.pages.episode_words import detail_words, lasted_words
from app.pages.frame import Frame
from app.pages.known import Known
from app.pages.one_event_page import EventPart, OneEventPage, PutRightForm, SaidLine
from app.pages.row_page import OldValue
from app.pages.times import clock_time, when_in

EVENT, END = "event", "end"
GOES_ON = "It goes on again then, and what is due counts as if it had never ended."


class EventSent(Struct, frozen=True):
    """What somebody sent to put an event right, and what held it up; empty for a first look."""

    part: str = ""
    at: datetime | None = None
    at_text: str = ""
    at_error: str = ""
    words: str = ""
    why: str = ""
    error: str = ""
    strike_why: str = ""
    strike_error: str = ""
    trouble: str = ""
    beside: tuple[tuple[str, str], ...] = ()
    """Label and text of what stands in no form of the page any more."""


def one_event_page(
    frame: Frame, course: Known, event: Event, sent: EventSent, *, may_correct: bool
) -> OneEventPage:
    """One event; a struck one can only be read."""
    base = f"/courses/{course.facts.course_id}"
    here = f"{base}/events/{event.id}"
    opens = may_correct and not event.struck
    kind = EVENT_KINDS.get(event.kind)
    label = kind.label if kind is not None else event.kind
    at = clock_time(event.observed_at, course.now, course.clock)
    told_by_tube = event.ended_at is not None and not event.end_version_id
    return OneEventPage(
        frame=replace(frame, unsaved=sent.beside),
        banner=course.banner,
        heading=f"{label}, {at}",
        struck=struck_words(event, course),
        trouble=sent.trouble,
        parts=tuple(_parts(course, event, sent, opens=opens)),
        said=tuple(_said(course, event)),
        correct_action=f"{here}/correct" if opens else "",
        strike_action=f"{here}/strike" if opens else "",
        back_href=base,
        timeline_href=f"{base}/timeline",
        note="Nobody charted how it ended." if told_by_tube and opens else "",
        note_href=f"{base}/episodes?act={event.kind}.end" if told_by_tube and opens else "",
    )


def struck_words(event: Event, course: Known) -> str:
    """ "Struck 16:02 by Birch: wrong bed"; empty while the event stands."""
    if not event.struck or event.struck_at is None:
        return ""
    at = clock_time(event.struck_at, course.now, course.clock)
    return f"Struck {at} by {event.struck_by}: {event.struck}"


def _parts(course: Known, event: Event, sent: EventSent, *, opens: bool) -> Iterator[EventPart]:
    now, clock = course.now, course.clock
    yield EventPart(
        heading="What was charted",
        words=event.words,
        when=when_in(event.observed_at, now, clock),
        author=event.author,
        old=tuple(_old(course, event, of_end=False)),
        form=_event_form(course, event, sent) if opens else None,
    )
    kind, ended_old = EVENT_KINDS.get(event.kind), tuple(_old(course, event, of_end=True))
    ends = (kind.ends if kind is not None else "") or "Ended"
    if event.ended_at is not None:
        told = outcome_words(event)
        yield EventPart(
            heading="Its end",
            words=f"{ends} after {lasted_words(event)}{f': {told}' if told else ''}",
            when=when_in(event.ended_at, now, clock),
            author="",
            old=ended_old,
            form=_end_form(course, event, sent) if opens and event.end_version_id else None,
        )
    elif ended_old:
        words = "No end stands: it goes on."
        yield EventPart("Its end", words, when_in(now, now, clock), "", ended_old)


def _old(course: Known, event: Event, *, of_end: bool) -> Iterator[OldValue]:
    """What stood there, newest first, each with who put it right and why."""
    kind = EVENT_KINDS.get(event.kind)
    for put in reversed(event.put_right):
        if put.of_end is of_end:
            label = (kind.ends if kind is not None else "") or "Ended"
            text = put.words if not of_end else ": ".join(filter(None, (label, put.words)))
            when = when_in(put.at, course.now, course.clock)
            yield OldValue(text, put.author, when, put_right_words(put, course))


def put_right_words(put: PutRight, course: Known) -> str:
    """ "corrected 11:02 by Birch: wrong hour"."""
    at = clock_time(put.written_at, course.now, course.clock)
    return f"{'struck' if put.struck else 'corrected'} {at} by {put.by}: {put.why}"


def _said(course: Known, event: Event) -> Iterator[SaidLine]:
    for said in event.said:
        words = detail_words(said)
        if words:
            yield SaidLine(words, said.author, when_in(said.observed_at, course.now, course.clock))


def _event_form(course: Known, event: Event, sent: EventSent) -> PutRightForm:
    mine = sent if sent.part == EVENT else EventSent()
    at = mine.at or event.observed_at
    return PutRightForm(
        part=EVENT,
        version=event.version_id,
        observed=observed_input(
            "It was at", at, mine.at_text, mine.at_error, course.clock, course.now
        ),
        words=mine.words if mine.error or mine.at_error else typed_words(event),
        may_correct=event.kind not in OF_A_TUBE or event.kind == UNPLANNED,
        strike_words="Strike this event",
        strike_note=_along_words(written_along(course.facts, event)),
        correct_error=mine.error or mine.at_error,
        strike_error=mine.strike_error,
        why=mine.why,
        strike_why=mine.strike_why,
    )


def _along_words(along: WrittenAlong) -> str:
    """What goes with it."""
    told = []
    if along.airways:
        told.append("what it says of the airway")
    if along.rows:
        told.append("the row that it put into the chart")
    if not told:
        return ""
    return f"Struck with it: {' and '.join(told)}; tasks that it opened or closed are taken back."


def _end_form(course: Known, event: Event, sent: EventSent) -> PutRightForm:
    mine = sent if sent.part == END else EventSent()
    at = mine.at or event.ended_at or course.now
    return PutRightForm(
        part=END,
        version=event.end_version_id,
        observed=observed_input(
            "It ended at", at, mine.at_text, mine.at_error, course.clock, course.now
        ),
        words=mine.words if mine.error or mine.at_error else event.end_words,
        may_correct=True,
        strike_words="Strike this end",
        strike_note=GOES_ON,
        correct_error=mine.error or mine.at_error,
        strike_error=mine.strike_error,
        why=mine.why,
        strike_why=mine.strike_why,
    )
