"""Rounds at fixed clock times: what counts for one, and when a missed one is late."""

from datetime import UTC, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.rules.due import ROUND_CREDIT, next_check
from app.rules.policy import Rounds
from app.rules.unit_clock import UnitClock

NEW_YORK = UnitClock("America/New_York")
ROUNDS = Rounds(tuple(time(hour, 30) for hour in (3, 7, 11, 15, 19, 23)), 60, 120)


def at(hour: int, minute: int, day: int = 25) -> datetime:
    return NEW_YORK.moments_of(datetime(2026, 11, day, hour, minute))[0]


def test_after_the_evening_round_the_next_is_before_midnight() -> None:
    assert next_check(at(19, 30), ROUNDS, NEW_YORK).due_at == at(23, 30)


def test_a_check_a_little_early_counts_for_its_round() -> None:
    assert next_check(at(23, 30) - ROUND_CREDIT, ROUNDS, NEW_YORK).due_at == at(3, 30, 26)


def test_a_check_too_early_does_not_count_for_the_round() -> None:
    early = at(23, 30) - ROUND_CREDIT - timedelta(minutes=1)
    assert next_check(early, ROUNDS, NEW_YORK).due_at == at(23, 30)


@pytest.mark.parametrize(
    ("minutes", "state"),
    [(-1, "due"), (0, "due"), (59, "due"), (60, "late"), (119, "late"), (120, "overdue")],
)
def test_a_missed_check_is_late_after_an_hour_and_overdue_after_two(
    minutes: int, state: str
) -> None:
    due = next_check(at(19, 30), ROUNDS, NEW_YORK)
    assert due.state(due.due_at + timedelta(minutes=minutes)) == state


def test_rounds_keep_their_wall_time_across_the_autumn_change() -> None:
    evening = datetime(2026, 11, 1, 3, 30, tzinfo=UTC)  # 23:30 EDT on 31 October
    due = next_check(evening, ROUNDS, NEW_YORK).due_at
    assert NEW_YORK.local(due).strftime("%H:%M %Z") == "03:30 EST"
    assert due - evening == timedelta(hours=5)


@given(st.datetimes(datetime(2024, 1, 1), datetime(2030, 1, 1), timezones=st.just(UTC)))
def test_the_next_check_is_always_ahead_and_never_more_than_six_hours(moment: datetime) -> None:
    ahead = next_check(moment, ROUNDS, NEW_YORK).due_at - moment
    assert ROUND_CREDIT < ahead <= timedelta(hours=6)
