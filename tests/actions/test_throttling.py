"""How long somebody waits after failures."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.actions.throttling import (
    ADDRESS,
    FORGOTTEN_AFTER,
    NAME,
    NAME_FROM_ADDRESS,
    Bound,
    bounds_of,
    failures_left,
)

NOW = datetime(2026, 3, 2, 8, tzinfo=UTC)


@pytest.mark.parametrize(
    ("failures", "seconds"), [(0, 0), (4, 0), (5, 1), (6, 2), (10, 32), (11, 60), (1000, 60)]
)
def test_waits_double_up_to_the_longest(failures: int, seconds: int):
    assert NAME_FROM_ADDRESS.wait(failures) == timedelta(seconds=seconds)


@given(st.sampled_from([NAME_FROM_ADDRESS, NAME, ADDRESS]), st.integers(0, 10**9))
def test_no_wait_shrinks_and_none_is_endless(bound: Bound, failures: int):
    assert bound.wait(failures) <= bound.wait(failures + 1) <= timedelta(minutes=1)


@pytest.mark.parametrize(
    ("until", "left"),
    [
        (None, 0),
        (NOW + timedelta(seconds=5), 7),
        (NOW - FORGOTTEN_AFTER + timedelta(seconds=1), 7),
        (NOW - FORGOTTEN_AFTER, 0),
    ],
)
def test_failures_count_until_they_are_forgotten(until: datetime | None, left: int):
    assert failures_left(7, until, NOW) == left


def test_keys_tell_neither_name_nor_address():
    keys = " ".join(bounds_of("ash", "10.1.1.1"))
    assert "ash" not in keys.replace("sha", "")
    assert "10.1.1.1" not in keys


def test_names_and_addresses_do_not_run_into_each_other():
    assert not set(bounds_of("a", "bc")) & set(bounds_of("ab", "c"))


def test_a_name_counts_the_same_however_it_is_capitalised():
    assert set(bounds_of("Ash", "10.1.1.1")) == set(bounds_of("ash", "10.1.1.1"))
