"""A small line beside a row of the grid: the same series as on the page of trends, over one day.

It has no axis to read values from: the row's own cells are the values. A sentence tells the line to
whoever does not see it.
"""

from collections.abc import Mapping
from datetime import datetime

from msgspec.structs import replace

from app.pages.bed import DAY
from app.pages.known import Known
from app.pages.small_trends import small_trend
from app.pages.trend_axes import TimeAxis
from app.pages.trend_series import series_of
from app.pages.trends_page import Trend
from app.rules.watch.policies import Policies

KEYS = (
    "fio2_set",
    "peep_set",
    "resp_rate_obs",
    "peak_inspiratory_pressure_obs",
    "plateau_pressure_obs",
    "spo2",
    "vt_per_pbw",
    "driving_pressure",
    "compliance_static",
    "pf_ratio",
)
"""The rows that a reader follows over a day (common practice)."""

LEAST = 2
"""A single value is no line."""


def row_trends(course: Known, policies: Policies) -> Mapping[str, Trend]:
    """The lines by the key of their row; a row with fewer than two values in the day has none."""
    axis = TimeAxis(course.now - DAY, course.now)
    lately = _since(course, axis.from_at - DAY)
    found = {key: series_of(key, lately, policies, axis) for key in KEYS}
    return {
        key: replace(small_trend(series, course), values=())
        for key, series in found.items()
        if series is not None and sum(bool(each.point.shown.text) for each in series.here) >= LEAST
    }


def _since(course: Known, from_at: datetime) -> Known:
    """The course without its older rows, so that a long one costs no more than a short one.

    A day more than is drawn, for the setting that was in force when the day began.
    """
    rows = tuple(row for row in course.facts.assessments if row.observed_at >= from_at)
    worked = tuple(each for each in course.worked if each[0].observed_at >= from_at)
    return replace(course, facts=replace(course.facts, assessments=rows), worked=worked)
