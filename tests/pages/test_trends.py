"""Trends: the axes, the gap where an index is not valid, limits as they were in force."""

from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from app.pages.known import Known, known
from app.pages.row_trends import row_trends
from app.pages.small_trends import small_trend, value_axis
from app.pages.trend_axes import TimeAxis, ticks, time_axis
from app.pages.trend_series import series_of
from app.pages.trends import trends_page
from app.pages.trends_page import DrawnSeries, Trend
from app.rules.unit_clock import UnitClock
from app.rules.watch.policies import InForceFrom, Policies
from tests.browser.sample_frame import frame
from tests.charting.rows import AT, START, course, later
from tests.rules.watch.scenes import POLICY, check, with_band

LARCH = UnitClock("America/New_York")
AXIS = TimeAxis(later(hours=-1), later(hours=11))


def told(*plateaus: str | None) -> Known:
    rows = [check(4 * n, plateau_pressure_obs=each) for n, each in enumerate(plateaus)]
    return known(course(*rows), POLICY, LARCH, later(hours=11))


def trend_of(key: str, seen: Known, policies: Policies | None = None) -> Trend:
    found = series_of(key, seen, policies or Policies(POLICY), AXIS)
    assert found is not None
    return small_trend(found, seen)


def trend(key: str, *plateaus: str | None, policies: Policies | None = None) -> Trend:
    return trend_of(key, told(*plateaus), policies)


def drawn(key: str, *plateaus: str | None) -> DrawnSeries:
    """What the library gets of a series over the last twelve hours."""
    page = trends_page(frame("Trends"), told(*plateaus), Policies(POLICY), "12h")
    return next(each for each in page.drawing.series if each.key == key)


@given(st.lists(st.floats(-50, 5000), min_size=1, max_size=9))
def test_every_value_lies_between_the_ends_of_its_axis(numbers: list[float]):
    axis = value_axis(numbers)
    assert axis.low < min(numbers) <= max(numbers) < axis.high


def test_what_lies_outside_the_time_shown_is_put_at_its_edge():
    shares = [AXIS.share(later(hours=hours)) for hours in (-2, -1, 5, 11, 12)]
    assert shares == [0, 0, 50, 100, 100]


def test_the_whole_course_begins_with_its_support_and_is_never_shorter_than_an_hour():
    assert time_axis("all", START, AT).from_at == START
    assert time_axis("all", START, START).from_at == START - timedelta(hours=1)


def test_ticks_stand_at_round_hours_of_the_unit_on_the_night_the_clock_goes_back():
    begin = LARCH.first_moment(AT.replace(month=11, day=1, hour=0, minute=0, tzinfo=None))[0]
    texts = [tick.text for tick in ticks(TimeAxis(begin, begin + timedelta(hours=12)), LARCH)]
    assert texts == ["1 Nov", "03:00", "06:00", "09:00"]


def test_a_line_ends_at_another_tube_and_the_strip_names_it():
    known_ = told("22", "22", "22")
    tube = replace(known_.facts.airways[0], act="exchanged", observed_at=later(hours=2))
    facts = replace(known_.facts, airways=(*known_.facts.airways, tube))
    exchanged = known(facts, POLICY, LARCH, later(hours=11))
    assert len(trend_of("driving_pressure", exchanged).strokes) == 1
    page = trends_page(frame("Trends"), exchanged, Policies(POLICY), "24h")
    assert "Airway: Exchanged" in page.events[-1].words
    (line,) = [each for each in page.drawing.series if each.key == "driving_pressure"]
    assert [value is None for value in line.values] == [False, True, False, False]
    assert line.at[1] == page.drawing.events[-1].at


def test_the_band_that_was_ordered_is_held_against_spo2_from_its_order_on():
    rows = [check(4 * n, spo2=each) for n, each in enumerate(("86", "92", "86"))]
    facts = with_band(course(*rows))
    ordered = replace(facts, targets=replace(facts.targets, ordered_at=later(hours=2)))
    found = trend_of("spo2", known(ordered, POLICY, LARCH, later(hours=11)))
    assert [mark.drawn for mark in found.marks] == ["point", "point", "under"]
    assert found.limit_words == f"outside: under {ordered.targets.spo2_low}"
    assert [band.x for band in found.bands] == ["25.00%"]


def test_a_rows_small_line_has_its_gap_and_its_sentence_and_one_value_is_no_line():
    small = row_trends(told("22", "22", None), Policies(POLICY))["driving_pressure"]
    assert len(small.strokes) == 1
    assert [mark.drawn for mark in small.marks] == ["point", "point", "none"]
    assert small.summary.startswith("Driving pressure: 2 values")
    assert "plateau_pressure_obs" not in row_trends(told("22", None), Policies(POLICY))


def test_an_index_is_not_joined_across_a_check_where_it_does_not_hold():
    assert len(trend("driving_pressure", "22", "22", "22").strokes) == 2
    gap = trend("driving_pressure", "22", None, "22")
    assert gap.strokes == ()
    assert [mark.drawn for mark in gap.marks] == ["point", "none", "point"]
    library = drawn("driving_pressure", "22", None, "22")
    assert [value is None for value in library.values] == [False, True, False]
    assert "no value, " in library.points[1].said


def test_a_setting_is_a_step_and_holds_until_the_end_of_the_time_shown():
    peep = trend("peep_set", "22", "22")
    assert [stroke.x2 for stroke in peep.strokes] == [AXIS.at(later(hours=4)), "100.00%"]
    library = drawn("peep_set", "22", "22")
    assert (library.kind, library.values) == ("step", (10, 10, 10))
    assert library.at[-1] == later(hours=11).timestamp()


def test_a_setting_from_before_the_time_shown_is_held_but_is_no_value_of_it():
    seen = told("22", "22")
    page = trends_page(frame("Trends"), seen, Policies(POLICY), "6h")
    peep = next(each for each in page.drawing.series if each.key == "peep_set")
    assert [point.drawn for point in peep.points] == ["held"]
    assert (peep.at[0], peep.at[-1]) == (page.drawing.from_at, page.drawing.to_at)


def test_a_measured_value_is_joined_to_no_other():
    library = drawn("plateau_pressure_obs", "22", "23")
    assert library.values == ()
    assert [point.value for point in library.points] == [22, 23]


@pytest.mark.parametrize(("plateau", "drawn"), [("24", "point"), ("25", "point"), ("26", "over")])
def test_a_value_at_its_limit_is_not_over_it(plateau: str, drawn: str):
    assert trend("driving_pressure", plateau).marks[0].drawn == drawn


def test_each_value_is_held_against_the_limit_in_force_at_its_moment():
    limit = replace(POLICY.limits["driving_pressure"], over=Decimal(11))
    stricter = replace(POLICY, limits={**POLICY.limits, "driving_pressure": limit})
    policies = Policies([InForceFrom(START, POLICY), InForceFrom(later(hours=2), stricter)])
    found = trend("driving_pressure", "22", "22", policies=policies)
    assert [mark.drawn for mark in found.marks] == ["point", "over"]
    assert len(found.bands) == 2
    page = trends_page(frame("Trends"), told("22", "22"), policies, "12h")
    line = next(each for each in page.drawing.series if each.key == "driving_pressure")
    assert [limit.over for limit in line.limits] == [15, 11]
    assert line.limits[0].to_at == line.limits[1].from_at == later(hours=2).timestamp()


def test_a_struck_row_is_drawn_struck_and_counts_for_nothing():
    rows = [check(0, plateau_pressure_obs="22"), replace(check(4), struck="wrong bed")]
    seen = known(course(*rows), POLICY, LARCH, later(hours=11))
    found = trend_of("plateau_pressure_obs", seen)
    assert [mark.drawn for mark in found.marks] == ["point", "struck"]
    assert "1 value" in found.summary
