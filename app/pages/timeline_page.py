"""The timeline of a course as its template reads it: lanes over its whole length, and each day."""

from msgspec import Struct

from app.pages.frame import Banner, Frame
from app.pages.shown import When
from app.pages.trends_page import Tick


class Span(Struct, frozen=True):
    """Something that lasted, in percent of the course's length."""

    x: str
    width: str
    words: str
    goes_on: bool = False


class Lane(Struct, frozen=True):
    """One kind of thing over the course: what lasted, and the moments at which something was."""

    label: str
    spans: tuple[Span, ...] = ()
    moments: tuple[str, ...] = ()


class TimelineLine(Struct, frozen=True):
    """One thing in the words of the record; `what` is its kind: place, airway, mode ..."""

    when: When
    what: str
    words: str
    author: str = ""
    href: str = ""
    undone: str = ""
    """By whom it was struck or corrected, when and why; empty for what stands."""


class TimelineDay(Struct, frozen=True):
    """One calendar day of the unit with what happened on it, newest first."""

    heading: str
    day: str
    """The ventilator day, such as "day 3"."""
    lines: tuple[TimelineLine, ...]


class TimelinePage(Struct, frozen=True):
    """A whole course: places, airway, modes, states, single events, handoffs and its end."""

    frame: Frame
    banner: Banner
    span_words: str
    ticks: tuple[Tick, ...]
    lanes: tuple[Lane, ...]
    days: tuple[TimelineDay, ...]
    day_rule: str
    back_href: str
