"""RSBI and ROX."""

import pytest

from app.physiology.breathing import FAMILIES
from tests.physiology.asking import asked, shown, unavailable, value

OWN = ("csv_ps", "csv_vtps", "csv_prop", "cpap", "o2_mask", "spontaneous")


@pytest.mark.parametrize("family", OWN)
def test_the_patients_own_breaths_have_an_index(family):
    assert shown("rsbi", rr=28, vt=350, family=family) == "80"


@pytest.mark.parametrize("family", sorted(set(FAMILIES) - set(OWN)))
def test_any_other_mode_leaves_it_blank(family):
    assert not unavailable("rsbi", rr=28, vt=350, family=family).applicable


def test_without_a_mode_there_is_no_index():
    assert unavailable("rsbi", rr=28, vt=350).missing == ("family",)
    assert unavailable("rox", spo2=92, fio2=60, rr=28).missing == ("family",)


@pytest.mark.parametrize(
    ("inputs", "basis"),
    [
        ({"family": "csv_ps", "ps": 10}, "on support 10 cmH2O"),
        ({"family": "csv_ps"}, "on Pressure support"),
        ({"family": "csv_ps", "ps": 0}, "on Pressure support"),
        ({"family": "cpap"}, "on CPAP"),
        ({"family": "o2_mask"}, ""),
    ],
)
def test_the_support_is_named_beside_the_number(inputs, basis):
    assert value("rsbi", rr=28, vt=350, **inputs).basis == basis


# 21 breaths of 200 mL are exactly 105; 200.9 mL show 105 too and 201.0 mL show 104
@pytest.mark.parametrize(("vt", "at"), [(198, False), (200, True), (200.9, True), (202, False)])
def test_at_the_threshold_means_as_displayed(vt, at):
    told = value("rsbi", rr=21, vt=vt, family="cpap")
    assert ("at the threshold" in told.basis) is at


@pytest.mark.parametrize("zero", ["rr", "vt"])
def test_a_zero_rate_or_volume_gives_no_index(zero):
    assert "zero" in unavailable("rsbi", **{"rr": 28, "vt": 350, zero: 0}, family="cpap").reason


def test_spontaneous_readings_come_before_the_totals():
    assert shown("rsbi", rr=30, vt=400, rr_spont=20, vt_spont=250, family="csv_ps") == "80"


def test_a_minute_volume_that_the_breaths_deny_is_asked_about():
    assert asked("rsbi", rr=28, vt=350, mve=14, family="cpap")


@pytest.mark.parametrize(("age", "there"), [(17, False), (18, True)])
def test_neither_index_is_shown_for_a_child(age, there):
    told = value if there else unavailable
    assert told("rsbi", rr=28, vt=350, family="cpap", age_y=age)
    assert told("rox", spo2=92, fio2=60, rr=28, family="hfnc", age_y=age)


@pytest.mark.parametrize("family", sorted(set(FAMILIES) - {"hfnc"}))
def test_rox_is_for_high_flow_alone(family):
    assert not unavailable("rox", spo2=92, fio2=60, rr=28, family=family).applicable


@pytest.mark.parametrize("zero", ["rr", "spo2"])
def test_rox_without_breaths_or_saturation_is_no_value(zero):
    inputs = {"spo2": 92, "fio2": 60, "rr": 28, "family": "hfnc", zero: 0}
    assert "zero" in unavailable("rox", **inputs).reason
