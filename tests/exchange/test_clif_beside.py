"""Vital signs join the check they were charted beside."""

from decimal import Decimal

import pytest

from app.exchange.clif_beside import NOTHING, Beside
from app.exchange.clif_rows import Finding, Place
from tests.exchange.clif_folder import STAY, at

MOMENT = at("08:00")


def spo2(clock: str, value: int) -> Finding:
    return Finding(STAY, at(clock), "spo2", Decimal(value))


@pytest.mark.parametrize(
    ("clock", "value"),
    [
        ("07:44:59", None),
        ("07:45", 95),
        ("08:00", 95),
        ("08:15", 95),
        ("08:15:01", None),
    ],
)
def test_a_vital_sign_joins_up_to_fifteen_minutes_before_or_after(clock: str, value: int | None):
    assert Beside([spo2(clock, 95)], []).vital("spo2", MOMENT) == value


def test_the_nearest_of_several_joins():
    beside = Beside([spo2("07:50", 91), spo2("08:04", 92), spo2("08:14", 93)], [])
    assert beside.vital("spo2", MOMENT) == 92


def test_of_two_equally_near_the_earlier_joins():
    assert Beside([spo2("08:05", 92), spo2("07:55", 91)], []).vital("spo2", MOMENT) == 91


def test_of_two_at_one_time_the_first_in_the_file_joins():
    assert Beside([spo2("08:00", 92), spo2("08:00", 91)], []).vital("spo2", MOMENT) == 92


def test_a_zero_is_no_vital_sign():
    assert Beside([spo2("08:00", 0), spo2("08:10", 95)], []).vital("spo2", MOMENT) == 95


@pytest.mark.parametrize(
    ("clock", "category", "prone"),
    [
        ("08:10", "prone", True),
        ("08:15", "Prone", True),
        ("08:16", "prone", False),
        ("08:10", "not_prone", False),
    ],
)
def test_prone_is_charted_only_where_the_nearest_position_says_so(
    clock: str, category: str, prone: bool
):
    assert Beside([], [Place(STAY, at(clock), category)]).prone(MOMENT) is prone


def test_a_stay_with_no_such_rows_gives_nothing():
    assert NOTHING.vital("spo2", MOMENT) is None
    assert NOTHING.prone(MOMENT) is False
