"""The unit's clock on ordinary days and on both nights of 2026 on which New York changes it."""

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.rules.unit_clock import UnitClock

NEW_YORK = UnitClock("America/New_York")
ZONES = st.sampled_from(
    ["America/New_York", "Europe/Vienna", "Asia/Kathmandu", "Australia/Lord_Howe"]
)


def test_an_ordinary_wall_time_happens_once() -> None:
    assert NEW_YORK.moments_of(datetime(2026, 11, 25, 19, 30)) == (
        datetime(2026, 11, 26, 0, 30, tzinfo=UTC),
    )


def test_a_wall_time_on_the_autumn_night_happens_twice_and_both_are_offered() -> None:
    # IANA time zone database: New York leaves daylight time on 1 November 2026 at 02:00.
    first, second = NEW_YORK.moments_of(datetime(2026, 11, 1, 1, 30))
    assert second - first == timedelta(hours=1)
    assert [NEW_YORK.local(at).tzname() for at in (first, second)] == ["EDT", "EST"]


def test_a_wall_time_on_the_spring_night_does_not_exist() -> None:
    # IANA time zone database: New York enters daylight time on 8 March 2026 at 02:00.
    assert NEW_YORK.moments_of(datetime(2026, 3, 8, 2, 30)) == ()


def test_a_skipped_time_may_mean_an_hour_less_or_an_hour_more() -> None:
    meant = NEW_YORK.may_mean(datetime(2026, 3, 8, 2, 30))
    assert [f"{NEW_YORK.local(at):%H:%M %Z}" for at in meant] == ["01:30 EST", "03:30 EDT"]


@given(st.datetimes(datetime(2026, 1, 1), datetime(2026, 12, 31)), ZONES)
def test_every_wall_time_means_something_and_what_exists_means_itself(wall, zone) -> None:
    clock = UnitClock(zone)
    assert clock.may_mean(wall)
    assert clock.moments_of(wall) in ((), clock.may_mean(wall))


def test_the_night_shift_of_the_autumn_change_lasts_thirteen_hours() -> None:
    start = NEW_YORK.shift_start(datetime(2026, 11, 1, 6, 0, tzinfo=UTC))
    end = NEW_YORK.shift_start(datetime(2026, 11, 1, 12, 0, tzinfo=UTC))
    assert end - start == timedelta(hours=13)


@pytest.mark.parametrize(
    ("wall", "start"),
    [((6, 59), (19, 0)), ((7, 0), (7, 0)), ((18, 59), (7, 0)), ((19, 0), (19, 0))],
)
def test_a_shift_begins_at_its_minute(wall: tuple[int, int], start: tuple[int, int]) -> None:
    moment = datetime(2026, 11, 25, *wall, tzinfo=ZoneInfo("America/New_York"))
    assert NEW_YORK.local(NEW_YORK.shift_start(moment)).time() == time(*start)


def test_the_zone_is_named_near_a_change_and_not_in_between() -> None:
    assert NEW_YORK.change_near(datetime(2026, 11, 1, 0, 0, tzinfo=UTC))
    assert not NEW_YORK.change_near(datetime(2026, 11, 25, 0, 0, tzinfo=UTC))


@given(
    moment=st.datetimes(datetime(2020, 1, 1), datetime(2035, 1, 1), timezones=st.just(UTC)),
    zone=ZONES,
)
def test_every_moment_is_among_the_moments_of_its_own_wall_time(
    moment: datetime, zone: str
) -> None:
    clock = UnitClock(zone)
    assert moment in clock.moments_of(clock.local(moment).replace(tzinfo=None, fold=0))


@given(
    moment=st.datetimes(datetime(2020, 1, 1), datetime(2035, 1, 1), timezones=st.just(UTC)),
    zone=ZONES,
)
def test_a_shift_never_starts_after_the_moment_nor_more_than_thirteen_hours_before(
    moment: datetime, zone: str
) -> None:
    start = UnitClock(zone).shift_start(moment)
    assert timedelta(0) <= moment - start <= timedelta(hours=13)


@pytest.mark.parametrize(
    ("start", "hours"),
    [
        (datetime(2026, 10, 31, 23, tzinfo=UTC), 13),
        (datetime(2026, 11, 1, 23, 59, tzinfo=UTC), 12),
        (datetime(2026, 3, 8, 0, tzinfo=UTC), 11),
    ],
)
def test_a_shift_ends_where_the_next_begins_and_so_may_be_an_hour_longer_or_shorter(start, hours):
    clock = UnitClock("America/New_York")
    began = clock.shift_start(start)
    assert clock.shift_end(start) - began == timedelta(hours=hours)
    assert clock.shift_start(clock.shift_end(start)) == clock.shift_end(start)
