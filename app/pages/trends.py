"""Build the page of trends: a course over 6 hours up to its whole length, on one axis of time."""

from collections.abc import Iterator, Sequence

from app.charting.events import EVENT_KINDS
from app.charting.facts import Airway
from app.pages.airway_words import line
from app.pages.banner import banner_of
from app.pages.bed import Known
from app.pages.flag_words import label_of
from app.pages.frame import Frame, NavLink
from app.pages.series import points_of
from app.pages.shown import Drawn
from app.pages.times import clock_time, when_in
from app.pages.trend_axes import SPANS, USUAL_SPAN, TimeAxis, percent, ticks, time_axis
from app.pages.trend_series import trend_of
from app.pages.trends_page import Patch, TrendEvent, TrendsPage
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
    found = [(key, trend_of(key, course, policies, axis)) for key in SERIES]
    base = f"/courses/{facts.course_id}"
    start, stop = (clock_time(moment, now, clock) for moment in (axis.from_at, axis.to_at))
    return TrendsPage(
        frame=frame,
        banner=banner_of(facts, course.policy, clock, now, course.words),
        spans=tuple(
            NavLink(words, f"{base}/trends?over={code}", current=code == span)
            for code, (words, _) in SPANS.items()
        ),
        span_words=f"{start} to {stop}",
        ticks=ticks(axis, clock),
        trends=tuple(trend for _, trend in found if trend is not None),
        events=_events(course, axis),
        nothing=_nothing([key for key, trend in found if trend is None], course, axis),
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


def _events(course: Known, axis: TimeAxis) -> tuple[TrendEvent, ...]:
    each = (*_happened(course, axis), *_airways(course, axis), *_positions(course, axis))
    found = sorted(each, key=lambda event: event.when.iso)
    return tuple(
        TrendEvent(str(number), each.x, each.until, each.when, each.words)
        for number, each in enumerate(found, 1)
    )


def _happened(course: Known, axis: TimeAxis) -> Iterator[TrendEvent]:
    """Events, and states from their beginning, even one before the time shown, to their end."""
    for event in course.facts.events:
        lasts = bool(event.kind in EVENT_KINDS and EVENT_KINDS[event.kind].ends)
        end = event.ended_at or (axis.to_at if lasts else event.observed_at)
        if end < axis.from_at or event.observed_at > axis.to_at:
            continue
        until = None
        if end > event.observed_at:
            left, right = axis.share(event.observed_at), axis.share(end)
            until = Patch(percent(left), "0%", percent(right - left), "100%")
        when = when_in(event.observed_at, course.now, course.clock)
        ended = clock_time(event.ended_at, course.now, course.clock) if event.ended_at else ""
        words = f"{event.words}, until {ended}" if ended else event.words
        yield TrendEvent("", axis.at(event.observed_at), until, when, words)


def _airways(course: Known, axis: TimeAxis) -> Iterator[TrendEvent]:
    """What was done with the airway in the time shown; at another tube the lines end."""
    before: Airway | None = None
    for airway in sorted(course.facts.airways, key=lambda each: each.observed_at):
        at = airway.observed_at
        if axis.holds(at):
            when = when_in(at, course.now, course.clock)
            yield TrendEvent("", axis.at(at), None, when, f"Airway: {line(airway, before)}")
        before = airway


def _positions(course: Known, axis: TimeAxis) -> Iterator[TrendEvent]:
    """Each check that found the patient in another position than the one before."""
    before = ""
    for point in points_of("position", course):
        text, at = point.shown.text, point.row.observed_at
        if not point.row.counts or not text or text == before:
            continue
        if before and axis.holds(at):
            when = when_in(at, course.now, course.clock)
            yield TrendEvent("", axis.at(at), None, when, f"Found {text.lower()}")
        before = text
