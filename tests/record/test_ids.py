"""Keys are opaque, unique, and sort in the order of writing."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.record.ids import ROWS_PER_WRITE, new_id, random_id

NOW = datetime(2026, 3, 2, 8, tzinfo=UTC)
PLACES = st.tuples(
    st.integers(0, 10**9), st.integers(1, 2**28 - 1), st.integers(0, ROWS_PER_WRITE - 1)
)


@given(PLACES, PLACES)
def test_keys_sort_by_moment_then_write_then_row(one, other):
    first, second = (
        new_id(NOW + timedelta(milliseconds=ms), write, row) for ms, write, row in (one, other)
    )
    assert len(first) == len(second) == 32
    if one != other:
        assert (first < second) == (one < other)


@pytest.mark.parametrize("number", [0, ROWS_PER_WRITE - 1])
def test_a_write_numbers_a_million_rows(number):
    assert len(new_id(NOW, 1, number)) == 32


@pytest.mark.parametrize("number", [-1, ROWS_PER_WRITE])
def test_a_write_numbers_no_more_than_that(number):
    with pytest.raises(ValueError, match="at most"):
        new_id(NOW, 1, number)


def test_a_random_key_is_as_long_and_never_the_same():
    assert len({random_id() for _ in range(1000)}) == 1000
    assert len(random_id()) == 32
