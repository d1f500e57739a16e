"""The bench's own arithmetic: lines that merge, handoffs, and intervals against published cases."""

from datetime import UTC, datetime, timedelta
from math import comb
from random import Random

import pytest

from tests.bench.watch_figures import (
    Raise,
    handoffs,
    mean_interval,
    median_interval,
    merged,
    open_at,
    share_interval,
)

START = datetime(2026, 3, 9, 7, tzinfo=UTC)


def at(hours: float) -> datetime:
    return START + timedelta(hours=hours)


def raised(group: str, start: float, end: float | None) -> Raise:
    return Raise(group, at(start), None if end is None else at(end))


def test_flags_of_one_cause_that_overlap_or_touch_are_one_line():
    flags = [raised("mechanics", 6, 9), raised("mechanics", 0, 4), raised("mechanics", 4, 5)]
    assert merged(flags) == {"mechanics": [(at(0), at(5)), (at(6), at(9))]}


def test_an_open_flag_swallows_what_comes_after_it():
    flags = [raised("mechanics", 0, None), raised("mechanics", 4, 5)]
    assert merged(flags) == {"mechanics": [(at(0), None)]}


def test_safety_is_counted_apart():
    assert merged([raised("safety", 0, 4)]) == {}


@pytest.mark.parametrize(("hours", "lines"), [(-1, 0), (0, 1), (3.9, 1), (4, 0), (12, 1)])
def test_lines_open_at_a_moment(hours, lines):
    spans = merged([raised("mechanics", 0, 4), raised("drive", 10, None)])
    assert open_at(spans, at(hours)) == lines


def test_two_handoffs_a_day():
    assert handoffs(START, 2) == [at(12), at(24), at(36), at(48)]


@pytest.mark.parametrize(
    ("found", "of", "low", "high"),
    [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611)],
)
def test_shares_agree_with_published_wilson_intervals(found, of, low, high):
    """Newcombe, Stat Med 1998;17:857-872, table I, method 3."""
    share, below, above = share_interval(found, of)
    assert share == found / of
    assert (round(below, 4), round(above, 4)) == pytest.approx((low, high), abs=1e-4)


def test_a_mean_has_its_normal_interval():
    """Mean 3, SD 1.5811, SE 0.7071: 3 ± 1.3859."""
    assert mean_interval([1, 2, 3, 4, 5]) == pytest.approx((3, 1.6141, 4.3859), abs=1e-4)


def test_the_interval_of_a_median_holds_it_at_least_as_often_as_it_says():
    rng = Random(5)
    hits = 0
    for _ in range(1000):
        _, low, high = median_interval([rng.random() for _ in range(41)])
        hits += low <= 0.5 <= high
    assert hits >= 940


@pytest.mark.parametrize("count", [10, 25, 41, 100, 200])
def test_the_interval_of_a_median_is_wide_enough_by_the_exact_binomial(count):
    """The median lies between two order statistics as often as a fair coin's heads lie between
    their places: a sum of binomial terms, exact."""
    _, low, high = median_interval([float(n) for n in range(count)])
    inside = sum(comb(count, heads) for heads in range(int(low) + 1, int(high) + 1))
    assert inside / 2**count >= 0.95
