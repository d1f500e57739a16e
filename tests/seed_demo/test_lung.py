"""The simulated lung against a published model and against what physics says of any lung."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seed_demo.lung import (
    Lung,
    intrinsic_peep,
    pressure_breath,
    pressure_for_volume,
    trapped_volume,
    volume_breath,
)

compliances = st.floats(0.015, 0.12)
resistances = st.floats(4, 40)
lungs = st.builds(Lung, compliances, resistances)
volumes = st.floats(0.2, 0.7)
rates = st.floats(8, 30)

PUBLISHED = Lung(compliance=0.095, resistance=21)
"""One-compartment example, Crit Care 2013 (10.1186/cc12561): VT 0.65 L, TE 2.4 s."""


def test_trapped_gas_gives_the_published_auto_peep():
    assert intrinsic_peep(PUBLISHED, 0.65, 2.4) == pytest.approx(2.936, abs=0.001)


def test_trapped_gas_gives_the_published_plateau():
    plateau = intrinsic_peep(PUBLISHED, 0.65, 2.4) + 0.65 / PUBLISHED.compliance
    assert plateau == pytest.approx(9.78, abs=0.005)


def test_a_volume_breath_reaches_the_published_plateau_above_peep():
    # 0.65 L at 1 L/s leaves 2.4 s of a cycle of 3.05 s
    breath = volume_breath(PUBLISHED, 0.65, 1.0, 60 / 3.05, 5.0)
    assert breath.expiratory_time == pytest.approx(2.4)
    assert breath.plateau == pytest.approx(5 + 9.78, abs=0.005)


def test_three_time_constants_leave_a_twentieth():
    """e^-3 is 0.0498."""
    assert PUBLISHED.left_after(3 * PUBLISHED.time_constant) == pytest.approx(0.0498, abs=0.0001)


@given(lungs, volumes, st.floats(0.3, 5))
def test_more_time_to_breathe_out_traps_less(lung, volume, seconds):
    assert trapped_volume(lung, volume, seconds * 1.5) < trapped_volume(lung, volume, seconds)


@given(lungs, volumes, rates)
def test_in_volume_control_the_three_pressures_are_the_parts_of_the_equation(lung, volume, rate):
    breath = volume_breath(lung, volume, 1.0, rate, 8.0)
    assert breath.peak - breath.plateau == pytest.approx(lung.resistance)
    assert breath.plateau - breath.total_peep == pytest.approx(volume / lung.compliance)
    assert breath.total_peep >= 8.0


@given(lungs, volumes, rates)
def test_the_mean_pressure_lies_within_the_breath(lung, volume, rate):
    breath = volume_breath(lung, volume, 1.0, rate, 8.0)
    assert 8.0 < breath.mean < breath.peak


@given(lungs, st.floats(5, 30), st.floats(0.5, 1.5), rates)
def test_a_pressure_breath_never_passes_its_pressure(lung, pressure, time, rate):
    breath = pressure_breath(lung, pressure, time, rate, 6.0)
    assert breath.total_peep <= breath.plateau <= breath.peak == 6.0 + pressure


def test_a_slow_pressure_breath_fills_compliance_times_pressure():
    breath = pressure_breath(Lung(0.05, 5), 12, 3.0, 8, 5.0)
    assert breath.volume == pytest.approx(0.6, abs=0.001)


@given(lungs, volumes, st.floats(0.6, 1.2), rates)
def test_the_pressure_for_a_volume_reaches_it(lung, volume, time, rate):
    pressure = pressure_for_volume(lung, volume, time, rate)
    assert pressure_breath(lung, pressure, time, rate, 5.0).volume == pytest.approx(volume)


@pytest.mark.parametrize(("compliance", "resistance"), [(0, 10), (-0.05, 10), (0.05, 0)])
def test_a_lung_without_compliance_or_resistance_is_refused(compliance, resistance):
    with pytest.raises(ValueError, match="above zero"):
        Lung(compliance, resistance)


def test_a_breath_that_leaves_no_time_to_breathe_out_is_refused():
    with pytest.raises(ValueError, match="whole cycle"):
        volume_breath(PUBLISHED, 1.0, 0.5, 30, 5.0)
    with pytest.raises(ValueError, match="whole cycle"):
        pressure_breath(PUBLISHED, 15, 2.0, 30, 5.0)
