"""Which wall times of a form are taken, and what is said of those that are not."""

from datetime import UTC, datetime, timedelta

import pytest

from app.rules.unit_clock import UnitClock
from app.web.moments import LONGEST_AHEAD, MomentRefused, moment_in_form

NOW = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
VIENNA = UnitClock("Europe/Vienna")


def wall(moment: datetime) -> str:
    return f"{VIENNA.local(moment):%Y-%m-%dT%H:%M}"


def test_a_year_ahead_is_the_farthest_that_a_form_takes() -> None:
    farthest = NOW + LONGEST_AHEAD
    assert moment_in_form(wall(farthest), VIENNA, NOW) == farthest
    with pytest.raises(MomentRefused, match="more than a year ahead"):
        moment_in_form(wall(farthest + timedelta(minutes=1)), VIENNA, NOW)


def test_the_oldest_that_a_form_takes_is_in_1900() -> None:
    assert moment_in_form("1900-01-01T00:00", VIENNA, NOW).year == 1899  # in UTC
    with pytest.raises(MomentRefused, match="no time in anybody's care"):
        moment_in_form("1899-12-31T23:59", VIENNA, NOW)


@pytest.mark.parametrize("zone", ["America/New_York", "Europe/Vienna", "Pacific/Kiritimati"])
@pytest.mark.parametrize("which", ["", "first", "second"])
@pytest.mark.parametrize(
    "text", ["0001-01-01T00:00", "0001-01-02T23:59", "9999-12-30T00:00", "9999-12-31T23:59"]
)
def test_the_ends_of_the_calendar_are_refused_in_words(text: str, zone: str, which: str) -> None:
    with pytest.raises(MomentRefused, match=r"no time in anybody's care|more than a year ahead"):
        moment_in_form(text, UnitClock(zone), NOW, which)
