"""The calculator's conversions."""

import pytest

from tests.physiology.asking import asked, shown, unavailable, value


def convert(key, number, one, other):
    return {"key": key, "value": number, "from": one, "to": other}


def test_a_pressure_below_zero_can_be_converted():
    told = value(**convert("convert_pressure", -30, "cmH2O", "kPa"))
    assert (told.shown, told.unit) == ("-2.942", "kPa")


@pytest.mark.parametrize(("one", "other"), [("cmH2O", "g/L"), ("g/L", "g/dL"), ("foo", "kPa")])
def test_what_is_no_pressure_is_not_converted_as_one(one, other):
    assert unavailable(**convert("convert_pressure", 10, one, other))


@pytest.mark.parametrize("name", ["from", "to"])
def test_a_unit_left_out_is_named(name):
    inputs = {**convert("convert_pressure", 10, "kPa", "mmHg"), name: None}
    assert unavailable(**inputs).missing == (name,)


@pytest.mark.parametrize(
    ("number", "unit", "there"),
    [
        (0.9, "g/dL", False),
        (1, "g/dL", True),
        (26, "g/dL", True),
        (26.1, "g/dL", False),
        (134, "g/dL", False),
        (260, "g/L", True),
        (261, "g/L", False),
        (9, "g/L", False),
    ],
)
def test_haemoglobin_outside_one_to_twenty_six_is_asked_about(number, unit, there):
    other = "g/L" if unit == "g/dL" else "g/dL"
    if there:
        assert value(**convert("convert_hb", number, unit, other)).number > 0
    else:
        assert "in which unit" in asked(**convert("convert_hb", number, unit, other))


def test_haemoglobin_is_whole_in_grams_per_litre_and_in_tenths_per_decilitre():
    assert shown(**convert("convert_hb", 13.4, "g/dL", "g/L")) == "134"
    assert shown(**convert("convert_hb", 90, "g/L", "g/dL")) == "9.0"
