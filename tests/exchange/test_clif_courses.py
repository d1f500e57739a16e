"""From a stay's rows to its courses: what a day off the tube does, and how courses are named."""

from pathlib import Path

import pytest

from app.exchange.clif_courses import Course, courses_of
from app.rules.unit_clock import UnitClock
from tests.exchange.clif_folder import STAY, at, device_rows, support

TUBE, OFF = "IMV", "Nasal Cannula"


def courses(folder: Path, *rows: dict, zone: str = "UTC") -> tuple[Course, ...]:
    return courses_of(STAY, device_rows(folder, *rows), UnitClock(zone))


@pytest.mark.parametrize(
    ("clock", "days", "keys"),
    [
        ("23:59", 1, [STAY]),  # the day after: no whole day between
        ("00:00", 2, [STAY, "S1:2"]),  # one whole day between
        ("12:00", 9, [STAY, "S1:2"]),
    ],
)
def test_a_whole_calendar_day_off_the_tube_starts_a_second_course(
    tmp_path: Path, clock: str, days: int, keys: list[str]
):
    found = courses(
        tmp_path,
        support("08:00", TUBE),
        support("09:00", OFF),
        support(clock, TUBE, days=days),
    )
    assert [course.key for course in found] == keys


@pytest.mark.parametrize(("zone", "found"), [("UTC", 2), ("America/New_York", 1)])
def test_the_day_is_the_units_own(tmp_path: Path, zone: str, found: int):
    # The third lies wholly between in UTC; in New York it is still the third at the second row.
    rows = [support("23:00", TUBE), support("01:00", TUBE, days=2)]
    assert len(courses(tmp_path, *rows, zone=zone)) == found


def test_high_flow_after_the_tube_belongs_to_the_course(tmp_path: Path):
    (course,) = courses(
        tmp_path, support("08:00", TUBE), support("10:00", "High Flow NC"), support("12:00", OFF)
    )
    assert [row.at for row in course.rows] == [at("08:00"), at("10:00")]
    assert course.ended_at == at("12:00")


def test_what_came_before_the_tube_is_a_course_of_its_own_with_a_later_number(tmp_path: Path):
    found = courses(tmp_path, support("08:00", "High Flow NC"), support("10:00", TUBE))
    assert [(course.key, course.invasive) for course in found] == [("S1", True), ("S1:2", False)]
    assert found[0].started_at == at("10:00")


def test_a_stay_with_mask_ventilation_alone_is_a_course(tmp_path: Path):
    (course,) = courses(tmp_path, support("08:00", "NIPPV"), support("09:00", "NIPPV"))
    assert (course.key, course.invasive) == (STAY, False)


def test_a_stay_without_support_has_no_course(tmp_path: Path):
    assert courses(tmp_path, support("08:00", OFF), support("09:00", "Face Mask")) == ()


def test_oxygen_between_two_times_on_the_machine_belongs_but_a_cannula_does_not(tmp_path: Path):
    (course,) = courses(
        tmp_path,
        support("08:00", TUBE),
        support("09:00", "Face Mask"),
        support("10:00", OFF),
        support("11:00", TUBE),
        support("12:00", "Face Mask"),
    )
    assert [row.at for row in course.rows] == [at("08:00"), at("09:00"), at("11:00")]


def test_a_course_with_nothing_after_it_ends_at_its_last_row(tmp_path: Path):
    (course,) = courses(tmp_path, support("08:00", TUBE), support("09:00", TUBE))
    assert course.ended_at == at("09:00")
