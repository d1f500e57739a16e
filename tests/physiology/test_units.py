"""Units: exact factors, spellings, offsets, and what is not a unit."""

import subprocess
import sys
from decimal import Decimal

import pytest
from hypothesis import event, given
from hypothesis import strategies as st

from app.physiology.errors import PhysiologyError, UnknownUnitError, WrongDimensionError
from app.physiology.units import convert, read_unit, same_unit

PRESSURES = ("Pa", "hPa", "kPa", "mbar", "bar", "mmHg", "cmH2O", "psi")


def test_importing_the_room_does_not_import_pint():
    code = (
        "import sys, app.physiology.catalogue, app.physiology.calculate; "
        "sys.exit('pint' in sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True, timeout=60)


@pytest.mark.parametrize(
    ("unit", "pascals"),
    [
        ("mmHg", "133.322387415"),
        ("cmH2O", "98.0665"),
        ("psi", "6894.757293168"),
        ("mbar", "100"),
        ("hPa", "100"),
        ("kPa", "1000"),
        ("bar", "100000"),
    ],
)
def test_a_pressure_has_exactly_the_pascals_of_its_definition(unit, pascals):
    assert convert(Decimal(1), unit, "Pa") == Decimal(pascals)


@pytest.mark.parametrize(
    ("number", "from_unit", "to_unit", "expected"),
    [
        ("8.05", "L/min", "mL/min", "8050"),
        ("1", "L/s", "L/min", "60"),
        ("0.42", "L", "mL", "420"),
        ("5.5", "ft", "cm", "167.64"),
        ("70", "in", "cm", "177.8"),
        ("1.7", "m", "cm", "170"),
        ("100", "lb", "kg", "45.359237"),
        ("70000", "g", "kg", "70"),
        ("13.4", "g/dL", "g/L", "134"),
        ("0.4", "fraction", "%", "40"),
        ("1.5", "min", "s", "90"),
        ("2", "h", "min", "120"),
        ("98.6", "°F", "°C", "37"),
        ("37", "°C", "°F", "98.6"),
        ("0.05", "L/cmH2O", "mL/cmH2O", "50"),
        ("10", "cmH2O/(L/s)", "cmH2O/(L/s)", "10"),
        ("0.6", "/s", "/min", "36"),
        ("1.2", "L/day", "mL/day", "1200"),
    ],
)
def test_conversion_is_exact(number, from_unit, to_unit, expected):
    assert convert(Decimal(number), from_unit, to_unit) == Decimal(expected)


def test_a_number_already_in_its_unit_keeps_the_places_it_was_typed_with():
    assert str(convert(Decimal("26.0"), "cmH2O", "cmh2o")) == "26.0"


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("mmHg (displayed)", "mmHg"),
        ("bar gauge", "bar"),
        ("L O2/min", "L/min"),
        ("CMH2O", "cmH2O"),
        ("cmH₂O", "cmH2O"),
        ("/min", "1/min"),
        ("breaths/min/L", "breath/min/L"),
        ("%", "percent"),
        ("-", "fraction"),
        ("TE/TI", "fraction"),
        ("", "fraction"),
    ],
)
def test_a_unit_is_read_as_people_write_it(text, unit):
    assert read_unit(text) == unit


@pytest.mark.parametrize(
    "text",
    ["furlong", "mmHg2000", "L//min", "(L", "m**9", "2*m", "kPa kPa", "x" * 41, "cm^9", "L/min)"],
)
def test_what_is_no_unit_is_refused_with_its_text(text):
    with pytest.raises(UnknownUnitError) as caught:
        convert(Decimal(1), text, "kPa")
    assert caught.value.unit == text


def test_units_of_different_things_are_refused_with_both_named():
    with pytest.raises(WrongDimensionError) as caught:
        convert(Decimal(1), "L", "kPa")
    assert (caught.value.unit, caught.value.wanted) == ("L", "kPa")
    assert isinstance(caught.value, PhysiologyError)


def test_a_rate_with_a_temperature_in_it_is_refused_rather_than_offset():
    with pytest.raises(PhysiologyError):
        convert(Decimal(1), "°F/min", "kPa/min")


def test_same_unit_tells_spellings_from_units():
    assert same_unit("cmH2O", "CMH2O")
    assert not same_unit("cmH2O", "mbar")


@given(
    st.decimals(min_value=-10_000, max_value=10_000, places=3),
    st.sampled_from(PRESSURES),
    st.sampled_from(PRESSURES),
)
def test_a_pressure_there_and_back_is_itself(number, one, other):
    back = convert(convert(number, one, other), other, one)
    assert abs(back - number) <= abs(number) * Decimal("1e-25")


@given(st.decimals(min_value=-100, max_value=200, places=2))
def test_a_temperature_there_and_back_is_itself(celsius):
    back = convert(convert(celsius, "°C", "°F"), "°F", "°C")
    assert abs(back - celsius) <= Decimal("1e-24")


@given(st.text(max_size=30))
def test_any_text_is_a_unit_or_is_refused_by_name(text):
    try:
        outcome = read_unit(text)
    except UnknownUnitError as problem:
        outcome = problem.unit
        event("refused")
    assert outcome == text or read_unit(outcome)
