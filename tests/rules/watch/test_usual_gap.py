"""Where no plateau was charted, the peak less its usual distance tells the lung's share."""

import math

import pytest

from app.rules.watch import sightings
from tests.charting.rows import course
from tests.rules.watch.scenes import POLICY, check, flag, watched

LEVEL = [check(4 * n) for n in range(4)]
"""Plateau 22 under a peak of 32: 10 apart, over a PEEP of 10 and 400 mL."""


def both(*rows):
    return [row.values.get("compliance_both") for row in sightings(course(*rows), POLICY)]


def without(hours: float, peak: str, **values: object):
    return check(hours, plateau_pressure_obs=None, peak_inspiratory_pressure_obs=peak, **values)


def test_without_a_plateau_the_static_share_is_read_from_the_peak():
    *_, newest = both(*LEVEL, without(16, "37"))
    assert newest == pytest.approx(math.sqrt(400 / (37 - 10 - 10) * 400 / (37 - 10)))


@pytest.mark.parametrize(("plateaus", "told"), [(2, False), (3, True)])
def test_three_distances_make_one_usual(plateaus, told):
    *_, newest = both(*LEVEL[:plateaus], without(16, "37"))
    assert (newest is not None) is told


@pytest.mark.parametrize(
    "changed", [{"flow_rate_set": "65"}, {"flow_pattern": "decelerating"}, {"mode_family": "ac_pc"}]
)
def test_another_breath_has_no_usual_distance_yet(changed):
    *_, newest = both(*LEVEL, without(16, "37", **changed))
    assert newest is None


def test_a_peak_within_its_usual_distance_tells_nothing():
    *_, newest = both(*LEVEL, without(16, "20"))
    assert newest is None


def test_a_plateau_that_does_not_count_is_not_replaced_by_a_guess():
    *_, newest = both(*LEVEL, check(16, plateau_pressure_obs="26", hold_passive="no"))
    assert newest is None


def test_a_stiff_lung_is_told_at_the_first_peak_that_shows_it():
    seen = watched(*LEVEL, without(16, "41"))
    assert flag("compliance_both_step", seen) is not None
    assert flag("compliance_dynamic_step", seen) is None
