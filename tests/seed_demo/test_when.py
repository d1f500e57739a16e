"""Moments of a story, around now and on the unit's clock."""

from datetime import datetime, time

import pytest

from app.rules.policy import starting_policy
from seed_demo.shift import CLOCK, Span
from seed_demo.when import Ago, At

ROUNDS = starting_policy().rounds


def local(year, month, day, hour, minute) -> datetime:
    return datetime(year, month, day, hour, minute, tzinfo=CLOCK.info)


@pytest.mark.parametrize(
    ("now", "day"),
    [
        (local(2026, 3, 5, 10, 39), 4),
        (local(2026, 3, 5, 10, 40), 5),
        (local(2026, 3, 5, 10, 41), 5),
    ],
    ids=["before", "at", "after"],
)
def test_a_time_of_day_is_the_newest_one(now, day):
    assert At(time(10, 40)).before(now, CLOCK) == local(2026, 3, day, 10, 40)


def test_a_time_of_day_can_lie_further_back():
    now = local(2026, 3, 5, 12, 0)
    assert At(time(10, 40), 14).before(now, CLOCK) == local(2026, 3, 4, 10, 40)


def test_so_many_hours_ago_is_real_time_across_a_clock_change():
    """On 8 March 2026 the clock jumps from 02:00 to 03:00 in New York."""
    now = local(2026, 3, 8, 12, 0)
    assert CLOCK.local(Ago(12).before(now, CLOCK)).hour == 23


def test_rounds_run_to_now_and_no_further():
    span = Span(local(2026, 3, 5, 7, 30), ROUNDS)
    rounds = span.round_times()
    assert rounds[-1] == span.now
    assert len(rounds) == 19


def test_who_is_on_duty_changes_at_seven():
    span = Span(local(2026, 3, 5, 12, 0), ROUNDS)
    on_duty = [span.on_duty(local(2026, 3, 5, *at), "ash") for at in ((6, 59), (7, 0), (19, 0))]
    assert on_duty == ["birch", "ash", "birch"]
