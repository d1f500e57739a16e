"""The day count is a count of calendar days in the unit, not of hours."""

from datetime import UTC, datetime

import pytest

from app.rules.unit_clock import UnitClock
from app.rules.ventilator_day import ventilator_day

NEW_YORK = UnitClock("America/New_York")
LATE_EVENING = datetime(2026, 11, 25, 4, 50, tzinfo=UTC)  # 23:50 on the 24th in New York


def test_the_first_day_is_day_one() -> None:
    assert ventilator_day(LATE_EVENING, LATE_EVENING, NEW_YORK) == 1


def test_midnight_in_the_unit_makes_day_two_even_after_ten_minutes() -> None:
    assert ventilator_day(LATE_EVENING, datetime(2026, 11, 25, 5, 0, tzinfo=UTC), NEW_YORK) == 2


def test_midnight_in_london_makes_no_new_day_in_new_york() -> None:
    start = datetime(2026, 11, 24, 23, 0, tzinfo=UTC)
    assert ventilator_day(start, datetime(2026, 11, 25, 1, 0, tzinfo=UTC), NEW_YORK) == 1


def test_a_doubled_hour_counts_no_day_twice() -> None:
    start = datetime(2026, 10, 31, 12, 0, tzinfo=UTC)
    assert ventilator_day(start, datetime(2026, 11, 1, 12, 0, tzinfo=UTC), NEW_YORK) == 2


def test_a_moment_before_the_start_is_an_error() -> None:
    with pytest.raises(ValueError, match="before support started"):
        ventilator_day(LATE_EVENING, datetime(2026, 11, 1, tzinfo=UTC), NEW_YORK)
