"""Trends as the template reads them: one drawing for the library, and each series in small.

What the library draws is numbers and moments; it is handed over with the page as data. The small
picture stands for it on paper and without scripts, and alone beside a row of the grid.
"""

from msgspec import Struct

from app.pages.frame import Banner, Frame, NavLink
from app.pages.shown import Shown, When


class Stroke(Struct, frozen=True):
    """A straight line of a small picture, in percent of its width and height."""

    x1: str
    y1: str
    x2: str
    y2: str


class Patch(Struct, frozen=True):
    """A filled part of a small picture: what lies beyond a limit."""

    x: str
    y: str
    width: str
    height: str


class TrendMark(Struct, frozen=True):
    """One value of a small picture, or the place of one that is missing.

    `drawn` is "point", "over", "under", "struck" (does not count), "was" (before a correction) or
    "none".
    """

    x: str
    y: str
    drawn: str


class TrendValue(Struct, frozen=True):
    """One line of the table of a series."""

    when: When
    shown: Shown
    words: str


class Tick(Struct, frozen=True):
    """A time on the axis of a timeline."""

    x: str
    text: str
    anchor: str = "middle"


class Trend(Struct, frozen=True):
    """One series over the time shown, in small. `summary` says in a sentence what it shows."""

    key: str
    label: str
    unit: str
    kind: str
    """ "step" for a setting, "point" for what was measured, "line" for what was worked out."""
    newest: Shown | None
    limit_words: str
    ends: tuple[str, ...]
    """The greatest and the least figure, limits among them; one where there is no other."""
    strokes: tuple[Stroke, ...]
    bands: tuple[Patch, ...]
    marks: tuple[TrendMark, ...]
    values: tuple[TrendValue, ...]
    summary: str


class TrendEvent(Struct, frozen=True):
    """Something that happened, with the number under which the drawing marks it."""

    number: str
    when: When
    words: str


class DrawnPoint(Struct, frozen=True):
    """One value as the library draws it; `at` in seconds since 1970.

    `drawn` as in a small picture, or "held" for a setting from before the time shown. `said` is
    what a reader hears of it: "03:30, 16, over 15"; the reason where there is no value.
    """

    at: float
    value: float | None
    was: float | None
    drawn: str
    said: str


class DrawnLimit(Struct, frozen=True):
    """The limit in force from one moment to another; no end where that side has none."""

    from_at: float
    to_at: float
    over: float | None
    under: float | None


class DrawnSeries(Struct, frozen=True):
    """A series for the library: its line, with nothing where the line has a gap, and its points."""

    key: str
    label: str
    kind: str
    summary: str
    at: tuple[float, ...]
    values: tuple[float | None, ...]
    points: tuple[DrawnPoint, ...]
    limits: tuple[DrawnLimit, ...]


class DrawnEvent(Struct, frozen=True):
    """An event as a mark through every drawing; `until` where it lasted."""

    number: str
    at: float
    until: float | None
    said: str


class DrawnTick(Struct, frozen=True):
    """A round moment of the unit's clock on the axis of time."""

    at: float
    text: str


class Drawing(Struct, frozen=True):
    """Everything that the library needs; the same values stand in the tables."""

    from_at: float
    to_at: float
    ticks: tuple[DrawnTick, ...]
    events: tuple[DrawnEvent, ...]
    series: tuple[DrawnSeries, ...]


class TrendsPage(Struct, frozen=True):
    """A course over a span of time: series one under the other, on one axis of time."""

    frame: Frame
    banner: Banner
    spans: tuple[NavLink, ...]
    from_words: str
    to_words: str
    trends: tuple[Trend, ...]
    events: tuple[TrendEvent, ...]
    drawing: Drawing
    nothing: str
    """Which series could have a value in this time and have none; empty where each has."""
    policy_words: str
    back_href: str
