"""Water in the gas."""

from decimal import Decimal

import pytest

from app.physiology.humidity import saturated
from tests.physiology.asking import asked, band, shown, unavailable, value


# CRC Handbook, as reproduced, and the guideline's 44 at 37 °C
@pytest.mark.parametrize(
    ("celsius", "published"), [("20", "17.33"), ("22", "19.46"), ("34", "37.66"), ("37", "43.9")]
)
def test_the_equation_stays_within_a_tenth_of_the_table(celsius, published):
    assert abs(saturated(Decimal(celsius)) - Decimal(published)) < Decimal("0.15")


def test_more_water_than_the_gas_can_hold_is_asked_about():
    assert shown("relative_humidity_at_37", ah=44) == "100"
    assert asked("relative_humidity_at_37", ah=44.2)


def test_the_same_water_is_more_saturated_where_it_is_cooler():
    assert shown("relative_humidity_at_37", ah=33, temp=36) == "79"
    assert shown("relative_humidity_at_37", ah=33) == "75"


@pytest.mark.parametrize(("ah", "text"), [(30, "14"), (43.9, "0"), (50, "0")])
def test_a_deficit_is_never_below_nothing(ah, text):
    assert shown("humidity_deficit_37", ah=ah) == text


@pytest.mark.parametrize(
    ("ah", "word"), [(29.9, "below 30"), (30, "at least 30"), (31, "at least 30")]
)
@pytest.mark.parametrize("device", ["HME", "hme_filter", "HME-filter"])
def test_an_exchanger_is_held_against_thirty(device, ah, word):
    assert band("humidifier_check", device=device, ah=ah) == word


@pytest.mark.parametrize(
    ("ah", "temp", "word"),
    [
        (33, 34, "within 33–44 and 34–41"),
        (44, 41, "within 33–44 and 34–41"),
        (32.9, 37, "below 33"),
        (44.1, 37, "above 44"),
        (36, 33.9, "below 34"),
        (36, 41.1, "above 41"),
        (30, 42, "below 33 and above 41"),
    ],
)
def test_a_heated_humidifier_is_held_against_both_ranges(ah, temp, word):
    assert band("humidifier_check", device="heated", ah=ah, temp=temp) == word


def test_a_heated_humidifier_needs_its_temperature():
    assert unavailable("humidifier_check", device="heated", ah=36).missing == ("temp",)


@pytest.mark.parametrize("device", ["none", None, "fridge"])
def test_any_other_device_has_no_verdict(device):
    assert not unavailable("humidifier_check", device=device, ah=36).applicable


def test_a_temperature_in_fahrenheit_is_asked_about():
    assert "Fahrenheit" in asked("saturated_absolute_humidity", temp=98.6)


def test_water_for_a_day_is_minute_volume_times_humidity():
    assert value("water_use_per_day", ve=10, ah=44).number == Decimal("633.6")
    assert "zero" in unavailable("water_use_per_day", ve=0, ah=44).reason
