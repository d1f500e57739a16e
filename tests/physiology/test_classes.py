"""Bands, the reference row of pairs, and the adult gate."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.physiology.classes import LOWER_PEEP_ROW
from tests.physiology.asking import band, unavailable

PF = {"pf": 150, "peep": 8}
SF = {"sf": 200, "spo2": 92}


@pytest.mark.parametrize(
    ("pf", "word"),
    [
        (99, "severe"),
        (100, "severe"),
        (100.4, "severe"),
        (100.5, "moderate"),
        (200.4, "moderate"),
        (200.5, "mild"),
        (300, "mild"),
        (300.02, "mild"),
        (300.5, "none"),
    ],
)
def test_a_pf_band_is_judged_on_the_displayed_number(pf, word):
    assert band("berlin_class", pf=pf, peep=8) == word


@pytest.mark.parametrize(
    ("sf", "word"),
    [
        (148, "severe"),
        (148.5, "moderate"),
        (235, "moderate"),
        (235.5, "mild"),
        (315, "mild"),
        (316, "none"),
    ],
)
def test_an_sf_band_is_judged_on_the_displayed_number(sf, word):
    assert band("sf_class", sf=sf, spo2=92) == word


def test_a_pf_band_needs_a_peep_of_five():
    assert not unavailable("berlin_class", **{**PF, "peep": 4.5}).applicable
    assert band("berlin_class", **{**PF, "peep": 5}) == "moderate"
    assert band("berlin_class", pf=150, peep_set=6) == "moderate"
    assert unavailable("berlin_class", pf=150).missing == ("peep", "peep_set")


@pytest.mark.parametrize("spo2", [98, None, 0])
def test_an_sf_band_needs_a_readable_saturation(spo2):
    assert unavailable("sf_class", **{**SF, "spo2": spo2})


@pytest.mark.parametrize(("age", "there"), [(17.9, False), (18, True), (None, True)])
@pytest.mark.parametrize(
    ("key", "inputs"),
    [
        ("berlin_class", PF),
        ("sf_class", SF),
        ("ardsnet_lower_peep_pair", {"fio2": 40, "peep": 8}),
    ],
)
def test_a_band_is_an_adult_rule(key, inputs, age, there):
    if there:
        assert band(key, **inputs, age_y=age)
    else:
        assert not unavailable(key, **inputs, age_y=age).applicable


@pytest.mark.parametrize(("key", "inputs"), [("berlin_class", PF), ("sf_class", SF)])
def test_extracorporeal_support_leaves_no_band(key, inputs):
    assert not unavailable(key, **inputs, ecmo="VV").applicable


def test_high_flow_has_no_peep_to_class_by():
    assert not unavailable("berlin_class", **PF, family="hfnc").applicable


def test_bands_can_be_made_from_their_parts():
    assert band("berlin_class", pao2=80, fio2=40, peep=8) == "moderate"
    assert band("sf_class", spo2=92, fio2=40) == "moderate"


@pytest.mark.parametrize(("key", "name"), [("berlin_class", "pf"), ("sf_class", "sf")])
def test_a_ratio_left_empty_is_named(key, name):
    inputs = {"peep": 8, "spo2": 92, "pao2": 80, "fio2": 40, name: None}
    assert unavailable(key, **inputs).missing == (name,)
    assert "zero" in unavailable(key, **{**inputs, name: 0}).reason


@given(st.integers(21, 99), st.integers(0, 30))
def test_a_pair_is_on_the_table_only_as_printed(fio2, peep):
    printed = peep in LOWER_PEEP_ROW.get(fio2, ())
    assert (band("ardsnet_lower_peep_pair", fio2=fio2, peep=peep) == "on table") is printed


@pytest.mark.parametrize(
    ("peep", "word"),
    [(17, "off table"), (18, "on table"), (21, "on table"), (24, "on table"), (25, "off table")],
)
def test_pure_oxygen_goes_with_eighteen_to_twenty_four(peep, word):
    assert band("ardsnet_lower_peep_pair", fio2=100, peep=peep) == word


@pytest.mark.parametrize(("fio2", "peep"), [(40.5, 8), (40, 8.5), (45, 8)])
def test_nothing_between_two_entries_is_rounded_onto_the_table(fio2, peep):
    assert band("ardsnet_lower_peep_pair", fio2=fio2, peep=peep) == "off table"


@pytest.mark.parametrize(("age", "off"), [(9, True), (17, True), (18, False), (70, False)])
def test_adult_rules_are_off_under_eighteen(age, off):
    assert ("off" in band("adult_rules_on_child", age_y=age)) is off


def test_without_an_age_nobody_says_which_rules_hold():
    assert unavailable("adult_rules_on_child", age_y=None).missing == ("age_y",)
