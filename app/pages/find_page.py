"""Find a course: by record number, among those that ended lately, or by a shift's handoffs."""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from urllib.parse import quote

from msgspec import Struct

from app.charting.course_ends import end_words
from app.pages.frame import Frame, NavLink
from app.pages.shown import When
from app.pages.site_words import PLAIN, RECORD_NUMBER, SiteWords
from app.pages.times import full_time, iso, when_in
from app.record.courses import Course
from app.record.finding import ShiftStep
from app.rules.unit_clock import UnitClock

ENDED_WITHIN = timedelta(weeks=4)
DID = {
    "offered": "offered version {}",
    "accepted": "accepted",
    "taken": "took over",
    "returned": "returned with a question",
    "withdrawn": "took the offer back",
}


class FoundLine(Struct, frozen=True):
    """One course: where it is or how it ended; its name stands on its own page."""

    href: str
    label: str
    began: When
    state: str


class StepLine(Struct, frozen=True):
    """One step of a handoff in the shift."""

    when: When
    where: str
    href: str
    did: str
    author: str
    kept_href: str = ""


class FindPage(Struct, frozen=True):
    """A form for a record number, and two lists."""

    frame: Frame
    number_name: str
    found: tuple[FoundLine, ...]
    found_words: str
    """What the search gave; empty where nobody searched."""
    ended: tuple[FoundLine, ...]
    shift: str
    steps: tuple[StepLine, ...]
    shifts: tuple[NavLink, ...]


def found_lines(
    courses: Sequence[Course], beds: Mapping[str, str], now: datetime, clock: UnitClock
) -> tuple[FoundLine, ...]:
    """One line for each; `beds` are the codes of the beds that courses are in."""
    return tuple(
        FoundLine(
            href=f"/courses/{course.id}",
            label=f"Course {number}",
            began=when_in(course.support_started_at, now, clock),
            state=_state(course, beds, now, clock),
        )
        for number, course in enumerate(courses, start=1)
    )


def _state(course: Course, beds: Mapping[str, str], now: datetime, clock: UnitClock) -> str:
    if course.ended_at is not None:
        end = end_words(course.end_kind)
        return f"{end}, {when_in(course.ended_at, now, clock).text}"
    bed = beds.get(course.id)
    return f"in {bed}" if bed else "in no bed"


def step_lines(
    steps: Sequence[ShiftStep], beds: Mapping[str, str], now: datetime, clock: UnitClock
) -> tuple[StepLine, ...]:
    """The shift's steps in the order of time; beds are named as they are now."""
    return tuple(
        StepLine(
            when=when_in(step.at, now, clock),
            where=beds.get(step.course_id, "no bed"),
            href=f"/courses/{step.course_id}/handoff",
            did=DID[step.kind].format(step.version),
            author=step.author,
            kept_href=_kept(step),
        )
        for step in steps
    )


def _kept(step: ShiftStep) -> str:
    offered = step.kind == "offered"
    return f"/courses/{step.course_id}/handoffs/{step.version}" if offered else ""


def shift_links(start: datetime, now: datetime, clock: UnitClock) -> tuple[NavLink, ...]:
    """The shift before, and the one after unless it is still to come."""
    before, after = clock.shift_start(start - timedelta(seconds=1)), clock.shift_end(start)
    links = [NavLink("The shift before", f"/find?shift={quote(iso(before))}#shift")]
    if after <= now:
        links.append(NavLink("The shift after", f"/find?shift={quote(iso(after))}#shift"))
    return tuple(links)


def shift_words(start: datetime, clock: UnitClock) -> str:
    """From when to when, in full."""
    return f"{full_time(start, clock).text} to {full_time(clock.shift_end(start), clock).text}"


def number_name(words: SiteWords = PLAIN) -> str:
    """What this site calls the record number."""
    return words.name(RECORD_NUMBER)
