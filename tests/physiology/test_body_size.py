"""Predicted body weight and volume per kilogram."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.physiology.display import fixed
from tests.physiology.asking import asked, shown, unavailable, value


@pytest.mark.parametrize("sex", ["M", "m", "male", "Male"])
def test_sex_is_read_in_any_spelling(sex):
    assert shown("pbw", sex=sex, height=170) == "66.0"


@pytest.mark.parametrize("sex", ["unknown", "", None, "x"])
def test_without_a_sex_for_the_formula_there_is_no_weight(sex):
    assert unavailable("pbw", sex=sex, height=170).missing == ("sex",)


def test_feet_and_inches_are_not_rounded_to_centimetres_first():
    assert (
        value("pbw", sex="F", height_ft=5, height_in=4).number
        == value("pbw", sex="F", height=162.56).number
    )


def test_inches_alone_are_the_whole_height():
    assert shown("pbw", sex="M", height_in=70) == "73.1"


def test_a_foot_of_inches_beside_feet_is_asked_about():
    assert "over a foot" in asked("pbw", sex="M", height_ft=5, height_in=12)


def test_feet_whose_inches_were_left_empty_are_no_height():
    assert unavailable("pbw", sex="M", height_ft=5, height_in=None).missing == ("height_in",)


@pytest.mark.parametrize("height", [97, 119])
def test_a_weight_under_twenty_kilograms_is_not_shown(height):
    assert "under 20 kg" in unavailable("pbw", sex="M", height=height).reason


def test_twenty_kilograms_is_shown():
    assert shown("pbw", sex="M", height=119.5) == "20.1"


@pytest.mark.parametrize(("age", "there"), [(17, False), (18, True), (19, True), (None, True)])
def test_the_adult_formula_is_off_under_eighteen(age, there):
    if there:
        assert shown("pbw", sex="F", height=160, age_y=age) == "52.4"
    else:
        assert not unavailable("pbw", sex="F", height=160, age_y=age).applicable


def test_millimetres_in_the_centimetre_field_are_asked_about():
    assert "millimetres" in asked("pbw", sex="F", height=1700)


def test_the_printed_card_differs_by_a_tenth_at_five_foot_ten():
    assert shown("pbw_inch_form", sex="M", height=177.8) == "73.0"
    assert shown("pbw", sex="M", height=177.8) == "73.1"


@given(st.integers(130, 215), st.sampled_from("MF"))
def test_card_and_centimetre_form_never_differ_by_more_than_the_help_says(height, sex):
    card = value("pbw_inch_form", sex=sex, height=height).number
    assert abs(card - value("pbw", sex=sex, height=height).number) <= 0.3


def test_the_measured_volume_comes_before_the_set_one_and_says_so():
    both = value("vt_per_pbw", vte=400, vt_set=420, pbw=70)
    assert (both.shown, both.basis) == ("5.7", "measured expired volume")
    assert value("vt_per_pbw", vt_set=420, pbw=70).basis == "set volume"


def test_a_set_volume_stands_in_where_the_measured_one_was_not_done():
    assert value("vt_per_pbw", vte="not done: leak", vt_set=420, pbw=70).basis == "set volume"


def test_the_weight_is_worked_out_where_only_a_height_is_there():
    assert shown("vt_per_pbw", vt=420, sex="F", height=160) == "8.0"


def test_without_weight_or_height_the_missing_input_is_the_weight():
    assert unavailable("vt_per_pbw", vt=420).missing == ("pbw",)


@pytest.mark.parametrize("pbw", [15, 19.9])
def test_a_weight_given_under_twenty_kilograms_gives_no_volume_per_kilogram(pbw):
    assert "under 20 kg" in unavailable("vt_per_pbw", vt=120, pbw=pbw).reason


def test_a_volume_in_litres_is_asked_about():
    assert "litres" in asked("vt_per_pbw", vt=0.42, pbw=70)


def test_a_zero_volume_gives_no_value():
    assert unavailable("vt_per_pbw", vt=0, pbw=70).reason == "tidal volume is zero"


@given(st.integers(200, 900), st.integers(140, 210))
def test_what_is_shown_is_the_value_rounded_half_up(volume, height):
    told = value("vt_per_pbw", vt=volume, sex="M", height=height)
    assert told.shown == fixed(told.number, 1)
