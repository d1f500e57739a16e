"""Whose chart it is, by the end of the record number."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.charting.record_number import ends_in, to_be_asked

NUMBER = "LR-2086"


@pytest.mark.parametrize("typed", ["86", " 86 ", "8 6", "2086", "lr2086", "LR-2086", "８６"])
def test_the_end_of_the_number_is_taken_however_it_is_written(typed: str) -> None:
    assert ends_in(NUMBER, typed, 2)


@pytest.mark.parametrize("typed", ["", "6", "68", "20", "87", "186", "LR", "--", "86x", "086 1"])
def test_anything_else_is_not(typed: str) -> None:
    assert not ends_in(NUMBER, typed, 2)


@pytest.mark.parametrize(("digits", "taken"), [(1, True), (2, True), (3, False)])
def test_as_many_characters_as_the_site_asks_for_are_needed(digits: int, taken: bool) -> None:
    assert ends_in(NUMBER, "86", digits) is taken


def test_a_sign_inside_the_end_does_not_count() -> None:
    assert ends_in("LR-20-6", "06", 2)
    assert not ends_in("LR-20-6", "-6", 2)


def test_capitals_do_not_count() -> None:
    assert ends_in("2086-aB", "AB", 2)


@pytest.mark.parametrize(("typed", "taken"), [("7", True), ("", False), ("8", False)])
def test_a_number_shorter_than_that_is_asked_for_whole(typed: str, taken: bool) -> None:
    assert ends_in("7", typed, 2) is taken


@pytest.mark.parametrize(("number", "digits"), [("", 2), (" - ", 2), (NUMBER, 0)])
def test_where_nothing_can_be_compared_nothing_is_asked(number: str, digits: int) -> None:
    assert not to_be_asked(number, digits)
    assert ends_in(number, "", digits)


FIGURES = st.text("0123456789", min_size=4, max_size=10)


@given(FIGURES, st.text("0123456789", max_size=6), st.integers(1, 4))
def test_only_an_end_of_the_number_ever_passes(number: str, typed: str, digits: int) -> None:
    is_end = len(typed) >= digits and number[-len(typed) :] == typed
    assert ends_in(number, typed, digits) is is_end


@given(FIGURES, st.integers(1, 4))
def test_the_end_itself_always_passes(number: str, digits: int) -> None:
    assert ends_in(f"LR-{number}", number[-digits:], digits)
