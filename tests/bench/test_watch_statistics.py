"""The statistics of the rules and of their figures, held against SciPy's."""

from datetime import UTC, datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from app.rules.figures import Figures
from app.rules.watch.rule import Bounds
from app.rules.watch.step import Change, widened
from app.rules.watch.trail import Point, level_of
from tests.bench.watch_figures import mean_interval, median_interval, share_interval

START = datetime(2026, 3, 9, 8, 0, tzinfo=UTC)
MANY = st.lists(st.floats(0, 100, allow_nan=False), min_size=8, max_size=200, unique=True)


@given(of=st.integers(1, 400), part=st.floats(0, 1))
def test_a_share_has_scipys_wilson_interval(of: int, part: float) -> None:
    found = round(of * part)
    reference = stats.binomtest(found, of).proportion_ci(method="wilson")
    assert share_interval(found, of)[1:] == pytest.approx((reference.low, reference.high), abs=1e-9)


@given(values=MANY)
def test_a_mean_has_scipys_normal_interval(values: list[float]) -> None:
    low, high = stats.norm.interval(0.95, loc=stats.tmean(values), scale=stats.sem(values))
    assert mean_interval(values) == pytest.approx((stats.tmean(values), low, high), abs=1e-6)


@given(values=MANY)
def test_a_median_lies_in_an_interval_no_narrower_than_scipys(values: list[float]) -> None:
    """SciPy inverts the sign test: the exact interval by order statistics."""
    reference = stats.quantile_test(values, p=0.5).confidence_interval(0.95)
    _, low, high = median_interval(values)
    assert low <= reference.low
    assert reference.high <= high


@given(values=st.lists(st.floats(2, 60), min_size=6, max_size=80))
def test_a_patients_own_scatter_is_scipys_robust_deviation_of_their_steps(
    values: list[float],
) -> None:
    """Steps have √2 times the scatter of values around a level; the deviation is that from zero."""
    steps = [second - first for first, second in pairwise(values)]
    deviation = stats.median_abs_deviation(steps, center=lambda *_, **__: 0.0, scale="normal")
    asked = Bounds(Figures({"own_noise": 1.0}, source="this test"))
    times = widened(Change(rising=True), at_rounds(values), asked, by=0.5)
    assert times == pytest.approx(max(1.0, deviation / 2**0.5 / 0.5), rel=1e-4)


@given(values=st.lists(st.floats(2, 60), min_size=1, max_size=80))
def test_a_level_is_scipys_median(values: list[float]) -> None:
    assert level_of(at_rounds(values)) == pytest.approx(stats.quantile(values, 0.5))


def at_rounds(values: list[float]) -> list[Point]:
    return [
        Point(START + timedelta(hours=4 * number), 4.0 * number, value, epoch=0)
        for number, value in enumerate(values)
    ]
