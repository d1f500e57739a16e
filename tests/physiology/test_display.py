"""Rounding: decimal half-up, fixed places, whole minutes down, four digits for conversions."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.physiology.display import fixed, rounded, significant, typed_places, whole_down


@pytest.mark.parametrize(
    ("number", "text"),
    [("8.05", "8.1"), ("8.049", "8.0"), ("8.15", "8.2"), ("8", "8.0"), ("-0.04", "0.0")],
)
def test_one_place_rounds_half_up_and_keeps_its_zero(number, text):
    assert fixed(Decimal(number), 1) == text


def test_no_places_shows_a_whole_number():
    assert fixed(Decimal("22.5"), 0) == "23"


@given(st.integers(min_value=0, max_value=10**9))
def test_every_tie_goes_up(tenths):
    tie = Decimal(tenths) / 10 + Decimal("0.05")
    assert rounded(tie, 1) == (Decimal(tenths) + 1) / 10


@given(st.decimals(min_value=0, max_value=10**9, places=6), st.integers(0, 4))
def test_rounding_moves_a_number_by_at_most_half_a_unit(number, places):
    assert abs(rounded(number, places) - number) <= Decimal(5).scaleb(-places - 1)


@pytest.mark.parametrize(
    ("number", "text"), [("690.8", "690"), ("690", "690"), ("0.99", "0"), ("24.9999", "24")]
)
def test_minutes_are_never_more_than_there_are(number, text):
    assert whole_down(Decimal(number)) == text


@pytest.mark.parametrize(
    ("number", "text"),
    [
        ("7.50062", "7.501"),
        ("14.5038", "14.5"),
        ("0.980665", "0.9807"),
        ("9.99996", "10"),
        ("344.738", "344.7"),
        ("12345", "12350"),
        ("-2.941995", "-2.942"),
        ("0", "0"),
    ],
)
def test_a_conversion_shows_four_digits_without_trailing_zeros(number, text):
    assert significant(Decimal(number)) == text


@pytest.mark.parametrize(
    ("numbers", "places"),
    [(("26", "12"), 0), (("26.0", "12"), 1), (("9.78", "2.936"), 1), (("1E+2",), 0), ((), 0)],
)
def test_typed_places_are_those_that_somebody_typed(numbers, places):
    assert typed_places(*map(Decimal, numbers), most=1) == places
