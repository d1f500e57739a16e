"""Severinghaus and its inverse."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.physiology.asking import asked, unavailable, value


@given(st.integers(1, 700))
def test_the_inverse_undoes_the_curve(po2):
    saturation = value("severinghaus_so2", po2=po2).number
    back = value("severinghaus_po2_exact_inverse", so2=float(saturation)).number
    # the saturation passed through a float of 16 digits; near 100 % each one counts
    assert abs(float(back) - po2) < 1e-6 * po2


@given(st.integers(1, 700))
def test_more_oxygen_is_never_less_saturation(po2):
    lower = value("severinghaus_so2", po2=po2).number
    assert lower < value("severinghaus_so2", po2=po2 + 1).number < 100


def test_no_oxygen_gives_no_value_and_no_crash():
    assert unavailable("severinghaus_so2", po2=0).reason == "PO2 is zero"


@pytest.mark.parametrize("so2", [0, 100])
def test_the_curve_reaches_neither_end(so2):
    assert unavailable("severinghaus_po2_exact_inverse", so2=so2)


@pytest.mark.parametrize("so2", [0.01, 99.99])
def test_close_to_an_end_there_is_a_pressure(so2):
    assert value("severinghaus_po2_exact_inverse", so2=so2).number > 0


@pytest.mark.parametrize("so2", [-1, 100.5])
def test_outside_nothing_to_all_is_asked_about(so2):
    assert asked("severinghaus_po2_exact_inverse", so2=so2)
