"""Told courses and the wandering around them."""

import math
from itertools import pairwise
from random import Random
from statistics import fmean, pstdev

import pytest

from seed_demo.wander import Arc, LogWander, level

FALL = Arc(((-10, 40.0), (0, 10.0)))


@pytest.mark.parametrize(
    ("hour", "value"),
    [(-11, 40), (-10, 40), (-5, 20), (0, 10), (1, 10)],
    ids=["before", "first", "half", "last", "after"],
)
def test_an_arc_runs_straight_on_a_logarithmic_scale_between_its_points(hour, value):
    assert FALL.at(hour) == pytest.approx(value)


def test_a_level_never_moves():
    assert level(7).at(-70) == level(7).at(0) == 7


@pytest.mark.parametrize("points", [(), ((0, 0.0),), ((0, 1.0), (-1, 1.0)), ((0, 1.0), (0, 2.0))])
def test_an_arc_needs_points_in_order_above_zero(points):
    with pytest.raises(ValueError, match="in order of time"):
        Arc(points)


def wanderer() -> LogWander:
    return LogWander(0.10, 9.0, Random(5))


def walk(step_h: float, steps: int) -> list[float]:
    wander = wanderer()
    return [math.log(wander.forward(step_h)) for _ in range(steps)]


@pytest.mark.parametrize("step_h", [0.5, 4.0])
def test_wandering_has_its_spread_however_it_is_stepped(step_h):
    logs = walk(step_h, 20_000)
    assert pstdev(logs) == pytest.approx(0.10, rel=0.10)
    assert fmean(logs) == pytest.approx(0, abs=0.02)


def test_wandering_remembers_as_long_as_it_says():
    logs = walk(9.0, 20_000)
    lag_one = fmean(a * b for a, b in pairwise(logs)) / fmean(a * a for a in logs)
    assert lag_one == pytest.approx(math.exp(-1), abs=0.03)


def test_no_time_is_no_change():
    wander = wanderer()
    assert wander.forward(0.0) == wander.factor == pytest.approx(wander.forward(0.0))
