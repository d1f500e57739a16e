"""Cylinders: every doubt falls on the side of more oxygen."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.physiology.asking import asked, shown, unavailable, value

PSI = {"factor": 0.28, "pressure": 1200, "residual": 200, "flow": 4}
BAR = {"water_capacity": 10, "pressure": 100, "residual": 10, "flow": 6}
PRINTED = {"contents": 660, "full_pressure": 2000, "pressure": 1000, "residual": 200, "flow": 4}


@pytest.mark.parametrize(
    ("key", "inputs"),
    [
        ("cylinder_minutes", PSI),
        ("cylinder_minutes", PRINTED),
        ("cylinder_minutes_bar", BAR),
    ],
)
@pytest.mark.parametrize("pressure", [9, 10, 200])
def test_a_gauge_at_or_below_the_reserve_leaves_nothing(key, inputs, pressure):
    empty = {**inputs, "pressure": pressure, "residual": 200}
    assert "nothing left" in unavailable(key, **empty).reason


@pytest.mark.parametrize("residual", [None, "not said"])
def test_the_reserve_has_to_be_said(residual):
    assert unavailable("cylinder_minutes", **{**PSI, "residual": residual}).missing == ("residual",)


def test_no_reserve_can_be_said():
    assert shown("cylinder_minutes", **{**PSI, "residual": 0}) == "84"


def test_printed_contents_need_the_pressure_they_are_printed_for():
    assert shown("cylinder_minutes", **PRINTED) == "66"
    assert unavailable("cylinder_minutes", **{**PRINTED, "full_pressure": None})


@pytest.mark.parametrize(("pressure", "there"), [(2200, True), (2201, False)])
def test_a_gauge_far_above_the_full_pressure_is_asked_about(pressure, there):
    inputs = {**PRINTED, "pressure": pressure}
    if there:
        assert value("cylinder_minutes", **inputs).number > 0
    else:
        assert "in which unit" in asked("cylinder_minutes", **inputs)


def test_a_letter_alone_is_no_cylinder():
    inputs = {name: raw for name, raw in PSI.items() if name != "factor"}
    assert unavailable("cylinder_minutes", **inputs, size="E").missing == ("factor",)


@pytest.mark.parametrize("name", ["flow", "factor"])
def test_a_zero_flow_or_factor_gives_no_minutes(name):
    assert "zero" in unavailable("cylinder_minutes", **{**PSI, name: 0}).reason


def test_a_ventilator_draws_what_the_blender_says():
    inputs = {**PSI, "flow": None, "ve": 10, "fio2": 60, "bias_flow": 2}
    drawn = value("cylinder_flow_blender", ve=10, fio2=60, bias_flow=2).number
    litres = Decimal("0.28") * 1000
    assert value("cylinder_minutes", **inputs).number == litres / drawn


def test_a_ventilator_without_its_bias_flow_gives_no_minutes():
    inputs = {**PSI, "flow": None, "ve": 10, "fio2": 60}
    assert unavailable("cylinder_minutes", **inputs).missing == ("bias_flow",)


def test_air_draws_no_oxygen():
    assert shown("cylinder_flow_blender", ve=10, fio2=21) == "0.0"
    inputs = {**PSI, "flow": None, "ve": 10, "fio2": 21, "bias_flow": 0}
    assert "no oxygen" in unavailable("cylinder_minutes", **inputs).reason


def test_pure_oxygen_draws_the_whole_minute_volume():
    assert value("cylinder_flow_blender", ve=10, fio2=100).number == 10


def test_a_bias_flow_left_out_is_said():
    assert value("cylinder_flow_blender", ve=10, fio2=60).basis == "bias flow not counted"


@given(st.integers(201, 3000), st.integers(1, 60))
def test_minutes_shown_are_never_more_than_there_are(pressure, flow):
    told = value("cylinder_minutes", **{**PSI, "pressure": pressure, "flow": flow})
    assert 0 <= told.number - int(told.shown) < 1
