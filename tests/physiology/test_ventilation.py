"""Minute and alveolar ventilation, times of a breath, emptying."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.physiology.asking import asked, shown, unavailable, value

STREAMS = {"vt_mand": 450, "rr_mand": 10, "vt_spont": 300, "rr_spont": 12}


@pytest.mark.parametrize("zero", ["vt", "rr"])
def test_a_zero_volume_or_rate_gives_no_minute_ventilation(zero):
    assert "zero" in unavailable("minute_ventilation", **{"vt": 500, "rr": 14, zero: 0}).reason


@pytest.mark.parametrize(
    ("mve", "asks"), [(7.4, True), (7.5, False), (12.5, False), (12.6, True), (None, False)]
)
def test_a_minute_volume_over_a_quarter_off_is_asked_about(mve, asks):
    inputs = {"vt": 500, "rr": 20, "mve": mve}
    if asks:
        assert "against" in asked("minute_ventilation", **inputs)
    else:
        assert shown("minute_ventilation", **inputs) == "10.0"


@pytest.mark.parametrize("family", ["niv", "simv_vc", "aprv", "bilevel"])
def test_mixed_or_leaking_breaths_may_be_two_fifths_off(family):
    inputs = {"vt": 500, "rr": 20, "pbw": 50, "family": family}
    assert shown("vt_per_pbw", **inputs, mve=6) == "10.0"
    assert asked("vt_per_pbw", **inputs, mve=5.9)
    assert asked("vt_per_pbw", **{**inputs, "family": "ac_vc"}, mve=6)


def test_no_volume_beside_a_minute_volume_is_asked_about():
    assert "beside a minute volume" in asked("minute_ventilation", vt=0, rr=20, mve=8)


def test_both_streams_are_added():
    told = value("minute_ventilation", **STREAMS, family="simv_vc")
    assert (told.shown, told.basis) == ("8.1", "mandatory and spontaneous streams added")


@pytest.mark.parametrize("missing", sorted(STREAMS))
def test_one_stream_without_the_other_is_no_minute_ventilation(missing):
    assert unavailable("minute_ventilation", **{**STREAMS, missing: None}).missing == (missing,)


def test_no_spontaneous_breaths_need_no_volume():
    inputs = {**STREAMS, "rr_spont": 0, "vt_spont": None}
    assert shown("minute_ventilation", **inputs) == "4.5"


def test_two_silent_streams_are_no_minute_ventilation():
    assert unavailable("minute_ventilation", **{**STREAMS, "rr_mand": 0, "rr_spont": 0})


@pytest.mark.parametrize(("mve", "asks"), [(4.8, True), (4.9, False), (11.3, False), (11.4, True)])
def test_streams_two_fifths_off_the_minute_volume_are_asked_about(mve, asks):
    inputs = {**STREAMS, "mve": mve}
    if asks:
        assert "both streams" in asked("minute_ventilation", **inputs)
    else:
        assert shown("minute_ventilation", **inputs) == "8.1"


@pytest.mark.parametrize("family", ["simv_vc", "simv_pc", "bilevel", "aprv"])
def test_one_product_is_no_minute_ventilation_where_breaths_are_mixed(family):
    assert "both streams" in unavailable("minute_ventilation", vt=450, rr=22, family=family).reason


def test_the_measured_minute_volume_stands_in_for_mixed_breaths():
    told = value("minute_ventilation", vt=450, rr=20, mve=8, family="simv_vc")
    assert (told.shown, told.basis) == ("8.0", "as measured")


def test_the_measured_minute_volume_stands_in_for_a_missing_volume():
    assert value("minute_ventilation", rr=20, mve=8).basis == "as measured"


def test_a_measured_minute_volume_of_zero_is_no_value():
    assert unavailable("minute_ventilation", mve=0).reason == "minute volume is zero"


@pytest.mark.parametrize("vd", [500, 501])
def test_a_dead_space_as_large_as_the_breath_is_asked_about(vd):
    assert asked("alveolar_ventilation", vt=500, vd=vd, rr=14)


def test_alveolar_ventilation_of_mixed_breaths_is_no_value():
    assert unavailable("alveolar_ventilation", vt=500, vd=150, rr=14, family="simv_vc")


@pytest.mark.parametrize("ti", [2, 2.5])
@pytest.mark.parametrize("key", ["expiratory_time", "ie_ratio"])
def test_an_inspiration_as_long_as_the_cycle_is_asked_about(key, ti):
    assert "not shorter" in asked(key, rr=30, ti=ti)


def test_an_inspiration_just_shorter_than_the_cycle_leaves_an_expiration():
    assert shown("expiratory_time", rr=30, ti=1.99) == "0.01"


def test_a_pause_counts_as_inspiration():
    assert shown("ie_ratio", rr=20, ti=1, pause=0.2) == "1:1.5"


def test_a_pause_that_fills_the_cycle_is_asked_about():
    assert asked("expiratory_time", rr=20, ti=2.5, pause=0.5)


@pytest.mark.parametrize(
    ("ti", "text"), [(1, "1:2.0"), (1.5, "1:1.0"), (1.6, "1.1:1"), (2, "2.0:1")]
)
def test_a_ratio_is_never_printed_as_one_to_less_than_one(ti, text):
    assert shown("ie_ratio", rr=20, ti=ti) == text


def test_an_inverse_ratio_is_announced():
    assert "inverse" in value("ie_ratio", rr=20, ti=2).basis


@pytest.mark.parametrize("family", ["simv_vc", "csv_ps", "cpap", "bilevel", "aprv", "niv", "hfnc"])
@pytest.mark.parametrize("key", ["expiratory_time", "ie_ratio"])
def test_breaths_of_different_length_have_no_ratio(key, family):
    assert not unavailable(key, rr=20, ti=1, family=family).applicable


@pytest.mark.parametrize(("rr", "ti"), [(0, 1), (20, 0)])
def test_a_zero_rate_or_time_gives_no_ratio(rr, ti):
    assert "zero" in unavailable("ie_ratio", rr=rr, ti=ti).reason


def test_the_inspiratory_time_comes_from_the_flow_where_none_was_typed():
    assert shown("ie_ratio", rr=20, vt=500, flow=60, pause=0.5) == "1:2.0"


def test_an_inspiratory_time_that_was_typed_needs_no_flow_beside_it():
    assert shown("ie_ratio", rr=20, ti=1, flow=60, flow_pattern="decelerating") == "1:2.0"


def test_a_decelerating_flow_gives_no_inspiratory_time():
    assert unavailable("ie_ratio", rr=20, vt=500, flow=60, flow_pattern="decelerating")
    assert unavailable("ti_from_flow", vt=500, flow=60, flow_pattern="decelerating")


def test_inspiratory_time_from_flow_adds_the_pause_and_says_so():
    told = value("ti_from_flow", vt=500, flow=60, pause=0.3)
    assert (told.shown, told.basis) == ("0.80", "pause counted")


def test_no_flow_gives_no_inspiratory_time():
    assert unavailable("ti_from_flow", vt=500, flow=0).reason == "Flow is zero"


@given(st.integers(5, 40), st.integers(10, 149))
def test_the_two_times_fill_the_cycle(rr, hundredths):
    ti = hundredths / 100
    if ti * rr < 60:
        told = value("expiratory_time", rr=rr, ti=ti)
        assert abs((told.number + told.used["ti"]) * rr - 60) < 1e-20


@pytest.mark.parametrize(("n", "text"), [(0, "0"), (1, "63"), (3, "95"), (1000, "100")])
def test_the_share_emptied_stays_between_nothing_and_all(n, text):
    assert shown("emptied_fraction", n_tau=n) == text


def test_a_time_constant_of_zero_gives_no_quotient():
    assert unavailable("te_over_tau", te=2, tau=0).reason == "Time constant is zero"
