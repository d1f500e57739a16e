"""Build the page of trends: a course over 6 hours up to its whole length, on one axis of time."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from msgspec import Struct

from app.charting.events import EVENT_KINDS
from app.charting.facts import Airway
from app.pages.airway_words import line
from app.pages.flag_words import label_of
from app.pages.frame import Frame, NavLink
from app.pages.known import Known
from app.pages.series import points_of
from app.pages.shown import Drawn
from app.pages.small_trends import small_trend
from app.pages.times import clock_time, when_in
from app.pages.trend_axes import SPANS, USUAL_SPAN, TimeAxis, time_axis
from app.pages.trend_drawing import drawing_of, seconds
from app.pages.trend_series import series_of
from app.pages.trends_page import DrawnEvent, TrendEvent, TrendsPage
from app.rules.watch.policies import Policies

SERIES = (
    "driving_pressure",
    "plateau_pressure_obs",
    "vt_per_pbw",
    "compliance_static",
    "peak_inspiratory_pressure_obs",
    "peep_set",
    "peep_total",
    "tidal_volume_set",
    "pressure_control_set",
    "pressure_support_set",
    "ipap_set",
    "lpm_set",
    "resp_rate_set",
    "resp_rate_obs",
    "minute_vent_obs",
    "rsbi",
    "rox",
    "fio2_set",
    "spo2",
    "pf_ratio",
    "ph",
    "paco2",
    "etco2_mmhg",
    "cuff_pressure_cmh2o",
    "airway_depth_cm",
    "heart_rate",
    "map",
)
"""From the lungs to the blood; each is drawn only where the time shown holds a value of it."""


def trends_page(frame: Frame, course: Known, policies: Policies, span: str) -> TrendsPage:
    """The page; a span that no address names is the usual one."""
    span = span if span in SPANS else USUAL_SPAN
    facts, clock, now = course.facts, course.clock, course.now
    end = min(facts.ended_at, now) if facts.ended_at else now
    axis = time_axis(span, facts.support_started_at, end)
    found = [(key, series_of(key, course, policies, axis)) for key in SERIES]
    base = f"/courses/{facts.course_id}"
    shown = [series for _, series in found if series is not None]
    happened = sorted(_happened(course, axis), key=lambda each: each.at)
    return TrendsPage(
        frame=frame,
        banner=course.banner,
        spans=tuple(
            NavLink(words, f"{base}/trends?over={code}", current=code == span)
            for code, (words, _) in SPANS.items()
        ),
        from_words=clock_time(axis.from_at, now, clock),
        to_words=clock_time(axis.to_at, now, clock),
        trends=tuple(small_trend(series, course) for series in shown),
        events=tuple(_listed(number, each, course) for number, each in enumerate(happened, 1)),
        drawing=drawing_of(
            shown,
            [_marked(number, each, course, axis) for number, each in enumerate(happened, 1)],
            axis,
            course,
        ),
        nothing=_nothing([key for key, series in found if series is None], course, axis),
        policy_words="outside the range in force at the time, as the unit's policy or an "
        "order set it.",
        back_href=base,
    )


def _nothing(keys: Sequence[str], course: Known, axis: TimeAxis) -> str:
    """What could have had a value and has none: missing is not normal (decision 9)."""
    if len(keys) == len(SERIES):
        return "Nothing was charted in this time."
    missing = [label_of(key) for key in keys if _was_asked(key, course, axis)]
    return f"Without a value in this time: {', '.join(missing)}." if missing else ""


def _was_asked(key: str, course: Known, axis: TimeAxis) -> bool:
    return any(
        axis.holds(point.row.observed_at) and point.shown.drawn is not Drawn.NOTHING
        for point in points_of(key, course)
    )


class Happened(Struct, frozen=True):
    """Something that the drawings are marked with; `until` where it lasted."""

    at: datetime
    words: str
    until: datetime | None = None


def _listed(number: int, each: Happened, course: Known) -> TrendEvent:
    return TrendEvent(str(number), when_in(each.at, course.now, course.clock), each.words)


def _marked(number: int, each: Happened, course: Known, axis: TimeAxis) -> DrawnEvent:
    """A state from before the time shown is marked where that time begins."""
    until = seconds(min(each.until, axis.to_at)) if each.until is not None else None
    said = f"{clock_time(each.at, course.now, course.clock)}, {each.words}"
    return DrawnEvent(str(number), seconds(max(each.at, axis.from_at)), until, said)


def _happened(course: Known, axis: TimeAxis) -> Iterator[Happened]:
    yield from _events(course, axis)
    yield from _airways(course, axis)
    yield from _positions(course, axis)


def _events(course: Known, axis: TimeAxis) -> Iterator[Happened]:
    """Events, and states from their beginning, even one before the time shown, to their end."""
    for event in course.facts.events:
        lasts = bool(event.kind in EVENT_KINDS and EVENT_KINDS[event.kind].ends)
        end = event.ended_at or (axis.to_at if lasts else event.observed_at)
        if end < axis.from_at or event.observed_at > axis.to_at:
            continue
        ended = clock_time(event.ended_at, course.now, course.clock) if event.ended_at else ""
        words = f"{event.words}, until {ended}" if ended else event.words
        yield Happened(event.observed_at, words, end if end > event.observed_at else None)


def _airways(course: Known, axis: TimeAxis) -> Iterator[Happened]:
    """What was done with the airway in the time shown; at another tube the lines end."""
    before: Airway | None = None
    for airway in sorted(course.facts.airways, key=lambda each: each.observed_at):
        if axis.holds(airway.observed_at):
            yield Happened(airway.observed_at, f"Airway: {line(airway, before)}")
        before = airway


def _positions(course: Known, axis: TimeAxis) -> Iterator[Happened]:
    """Each check that found the patient in another position than the one before."""
    before = ""
    for point in points_of("position", course):
        text, at = point.shown.text, point.row.observed_at
        if not point.row.counts or not text or text == before:
            continue
        if before and axis.holds(at):
            yield Happened(at, f"Found {text.lower()}")
        before = text
