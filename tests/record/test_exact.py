"""Decimals and moments come back as they were written, on both engines."""

from datetime import UTC, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import select

from app.record.errors import Unstorable
from app.record.exact import plain
from app.record.tables import ReadingRow, table_of
from tests.record.scene import reading

READING = table_of(ReadingRow)


def back(scene, key):
    with scene.database.reading() as session:
        return session.execute(select(READING).where(READING.c.id == key)).one()


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("7.50", "7.50"),
        ("7.5", "7.5"),
        ("0.10", "0.10"),
        ("-2.0", "-2.0"),
        ("-0.0", "0.0"),
        ("1E+3", "1000"),
        ("1E-20", "0.00000000000000000001"),
        ("123456789012345678901234567890.12345", "123456789012345678901234567890.12345"),
    ],
)
def test_a_decimal_keeps_its_places(scene, written, read):
    assessment = scene.chart()
    row = reading(assessment, scene.course, "peep", scene.clock(), number=Decimal(written))
    scene.write(row)
    assert plain(back(scene, row.id).number) == read


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(number=st.decimals(allow_nan=False, allow_infinity=False, places=4))
def test_any_decimal_comes_back_digit_by_digit(scene, number):
    assessment = scene.chart()
    row = reading(assessment, scene.course, "peep", scene.clock(), number=number)
    scene.write(row)
    assert plain(back(scene, row.id).number) == plain(number)


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity"])
def test_what_is_not_a_number_is_refused(scene, number):
    assessment = scene.chart()
    with pytest.raises(Unstorable):
        scene.write(
            reading(assessment, scene.course, "peep", scene.clock(), number=Decimal(number))
        )


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    moment=st.datetimes(
        min_value=datetime(1900, 1, 1),
        timezones=st.timezones(),
    )
)
def test_any_moment_comes_back_aware_and_in_utc(scene, moment):
    assessment = scene.chart()
    row = reading(assessment, scene.course, "peep", moment)
    scene.write(row)
    kept = back(scene, row.id).observed_at
    assert kept == moment.astimezone(UTC)
    assert kept.tzinfo is UTC


def test_both_moments_of_an_hour_that_comes_twice_are_kept_apart(scene):
    assessment = scene.chart()
    once = datetime(2026, 10, 25, 2, 30, tzinfo=ZoneInfo("Europe/Berlin"))
    rows = [
        reading(assessment, scene.course, field, once.replace(fold=fold))
        for fold, field in enumerate(("peep", "fio2"))
    ]
    scene.write(*rows)
    kept = [back(scene, row.id).observed_at for row in rows]
    assert kept == [datetime(2026, 10, 25, hour, 30, tzinfo=UTC) for hour in (0, 1)]


def test_moments_sort_in_the_database_as_they_do_in_time(scene):
    assessment = scene.chart()
    moments = [datetime(2026, 3, 2, 8, 0, 0, micro, tzinfo=UTC) for micro in (5, 0, 999_999, 10)]
    scene.write(*(reading(assessment, scene.course, "peep", moment) for moment in moments))
    with scene.database.reading() as session:
        kept = session.execute(select(READING.c.observed_at).order_by(READING.c.observed_at))
        assert kept.scalars().all() == sorted(moments)
