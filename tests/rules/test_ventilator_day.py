"""The day count is a count of calendar days in the unit, not of hours."""

from datetime import UTC, datetime

import pytest
from msgspec.structs import replace

from app.charting.airways import REMOVED
from app.charting.facts import CourseFacts
from app.pages.day_words import day_words
from app.rules.unit_clock import UnitClock
from app.rules.ventilator_day import Counted, counted, day_rule, ventilator_day
from tests.charting.rows import airway, course

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


@pytest.mark.parametrize(
    ("start", "at", "day"),
    [
        ("2026-03-07T23:30-05:00", "2026-03-08T00:10-05:00", 2),
        ("2026-03-07T23:30-05:00", "2026-03-08T23:59-04:00", 2),
        ("2026-03-07T23:30-05:00", "2026-03-09T00:00-04:00", 3),
        ("2026-10-31T23:30-04:00", "2026-11-01T01:30-04:00", 2),
        ("2026-10-31T23:30-04:00", "2026-11-01T01:30-05:00", 2),
        ("2026-10-31T23:30-04:00", "2026-11-01T23:59-05:00", 2),
        ("2026-10-31T23:30-04:00", "2026-11-02T00:00-05:00", 3),
    ],
)
def test_a_day_of_twenty_three_or_twenty_five_hours_is_one_day(start, at, day) -> None:
    begun, now = datetime.fromisoformat(start), datetime.fromisoformat(at)
    assert ventilator_day(begun, now, NEW_YORK) == day


def without_tube(out: str, back_in: str | None) -> CourseFacts:
    """A course with a tube since 1 March that came out, and perhaps another that went in."""
    at = datetime.fromisoformat("2026-03-01T06:00-05:00")
    tubes = [airway(at=at), replace(airway("none", datetime.fromisoformat(out)), act=REMOVED)]
    tubes += [airway(at=datetime.fromisoformat(back_in))] if back_in else []
    return replace(course(), support_started_at=at, airways=tuple(tubes))


@pytest.mark.parametrize(
    ("out", "back_in", "gap_days", "anew"),
    [
        ("2026-03-02T23:59-05:00", "2026-03-03T23:59-05:00", 1, False),
        ("2026-03-02T23:59-05:00", "2026-03-04T00:00-05:00", 1, True),
        ("2026-03-02T00:01-05:00", "2026-03-03T23:59-05:00", 1, False),
        ("2026-03-02T23:59-05:00", "2026-03-04T00:00-05:00", 2, False),
        ("2026-03-02T23:59-05:00", "2026-03-05T00:00-05:00", 2, True),
        # 8 March has 23 hours, 1 November 25.
        ("2026-03-07T23:59-05:00", "2026-03-08T23:59-04:00", 1, False),
        ("2026-03-07T23:59-05:00", "2026-03-09T00:00-04:00", 1, True),
        ("2026-10-31T23:59-04:00", "2026-11-01T23:59-05:00", 1, False),
        ("2026-10-31T23:59-04:00", "2026-11-02T00:00-05:00", 1, True),
    ],
)
def test_only_a_gap_with_a_whole_calendar_day_begins_the_count_anew(out, back_in, gap_days, anew):
    facts = without_tube(out, back_in)
    begun = datetime.fromisoformat(back_in) if anew else facts.support_started_at
    assert counted(facts, gap_days, NEW_YORK) == Counted(begun)


def test_while_no_tube_is_in_the_count_stands_still_at_the_day_it_came_out() -> None:
    facts = without_tube("2026-03-03T14:05-05:00", None)
    days = counted(facts, 1, NEW_YORK)
    assert days.off_since == datetime(2026, 3, 3, 19, 5, tzinfo=UTC)
    now = datetime(2026, 3, 6, 12, 0, tzinfo=UTC)
    assert day_words(days, now, NEW_YORK) == "day 3, off since 3 Mar 14:05"


def test_a_course_that_begins_on_a_mask_counts_from_its_first_tube() -> None:
    tube = airway(at=datetime(2026, 3, 4, 12, 0, tzinfo=UTC))
    facts = replace(course(), airways=(airway("mask"), tube))
    assert counted(facts, 1, NEW_YORK) == Counted(tube.observed_at)


def test_the_rule_names_the_number_of_the_unit() -> None:
    assert "without one whole calendar day" in day_rule(1)
    assert "without 2 whole calendar days" in day_rule(2)
