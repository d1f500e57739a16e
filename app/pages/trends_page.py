"""Trends as the template reads them: each series as marks at percentages of its own picture."""

from dataclasses import dataclass

from app.pages.frame import Banner, Frame, NavLink
from app.pages.shown import Shown, When


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line of a picture, in percent of its width and height."""

    x1: str
    y1: str
    x2: str
    y2: str


@dataclass(frozen=True, slots=True)
class Patch:
    """A filled part of a picture: beyond a limit, or the time that a state lasted."""

    x: str
    y: str
    width: str
    height: str


@dataclass(frozen=True, slots=True)
class TrendMark:
    """One value, or the place of one that is missing; `drawn` is the way it is drawn.

    "point", "over", "under", "struck" (does not count), "was" (before a correction) or "none".
    """

    x: str
    y: str
    drawn: str
    said: str
    """What a reader hears of it: "03:30, 16, over 15"; the reason where there is no value."""


@dataclass(frozen=True, slots=True)
class TrendValue:
    """One line of the table of a series."""

    when: When
    shown: Shown
    words: str


@dataclass(frozen=True, slots=True)
class Tick:
    """A time on the axis."""

    x: str
    text: str
    anchor: str = "middle"


@dataclass(frozen=True, slots=True)
class Trend:
    """One series over the time shown. `summary` says in a sentence what the picture shows."""

    key: str
    label: str
    unit: str
    kind: str
    """ "step" for a setting, "point" for what was measured, "line" for what was worked out."""
    newest: Shown | None
    limit_words: str
    top: str
    bottom: str
    strokes: tuple[Stroke, ...]
    bands: tuple[Patch, ...]
    marks: tuple[TrendMark, ...]
    values: tuple[TrendValue, ...]
    summary: str
    ticks: tuple[Tick, ...] = ()


@dataclass(frozen=True, slots=True)
class TrendEvent:
    """Something that happened, numbered in the strip over the series."""

    number: str
    x: str
    until: Patch | None
    when: When
    words: str


@dataclass(frozen=True, slots=True)
class TrendsPage:
    """A course over a span of time: series one under the other, on one axis of time."""

    frame: Frame
    banner: Banner
    spans: tuple[NavLink, ...]
    span_words: str
    ticks: tuple[Tick, ...]
    trends: tuple[Trend, ...]
    events: tuple[TrendEvent, ...]
    nothing: str
    """Which series could have a value in this time and have none; empty where each has."""
    policy_words: str
    back_href: str
