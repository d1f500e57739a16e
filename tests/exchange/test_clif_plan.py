"""What an import will write, worked out before anything is written."""

from pathlib import Path

import pytest

from app.charting.facts import Kind
from app.exchange.clif_plan import Plan, plan_of
from app.rules.unit_clock import UnitClock
from tests.exchange.clif_folder import STAY, at, lab, support, tables

VOLUME = "Assist Control-Volume Control"


def plan(folder: Path, *rows: dict, **others: list[dict]) -> Plan:
    return plan_of(tables(folder, *rows, **others), UnitClock("UTC"))


@pytest.mark.parametrize(
    ("clock", "taken"),
    [
        ("07:59", False),
        ("08:00", True),
        ("16:59", True),
        ("17:00", True),
        ("17:01", False),
    ],
)
def test_a_gas_belongs_from_the_start_until_eight_hours_after_the_last_row(
    tmp_path: Path, clock: str, taken: bool
):
    (planned,) = plan(
        tmp_path,
        support("08:00", "IMV", peep_set=8),
        support("09:00", "IMV", peep_set=8),
        support("23:00", "Nasal Cannula"),
        labs=[lab(clock, "ph_arterial", 7.4)],
    ).courses
    assert (Kind.GAS in {check.kind for check in planned.checks}) is taken


@pytest.mark.parametrize(("clock", "taken"), [("10:00", True), ("10:01", False)])
def test_a_gas_no_longer_belongs_once_something_else_was_charted(
    tmp_path: Path, clock: str, taken: bool
):
    (planned,) = plan(
        tmp_path,
        support("09:00", "IMV", peep_set=8),
        support("10:00", "Nasal Cannula"),
        labs=[lab(clock, "ph_arterial", 7.4)],
    ).courses
    assert (Kind.GAS in {check.kind for check in planned.checks}) is taken


def test_a_check_stands_before_a_gas_of_its_minute(tmp_path: Path):
    (planned,) = plan(
        tmp_path,
        support("08:00", "IMV", peep_set=8),
        labs=[lab("08:00", "ph_arterial", 7.4)],
    ).courses
    assert [check.kind for check in planned.checks] == [Kind.BRIEF, Kind.GAS]


def test_a_mode_too_old_is_charted_as_other_so_that_the_last_check_does_not_lend_its_own(
    tmp_path: Path,
):
    (planned,) = plan(
        tmp_path,
        support("01:00", "IMV", peep_set=8),
        support("02:00", "IMV", VOLUME, peep_set=8),
        support("09:00", "IMV", peep_set=8),
        support("11:00", "IMV", peep_set=8),
    ).courses
    assert [check.family for check in planned.checks] == ["", "ac_vc", "ac_vc", "other"]


def test_rows_are_counted_by_what_they_were(tmp_path: Path):
    rows = plan(
        tmp_path,
        support("08:00", "IMV"),
        support("09:00", fio2_set=0.4),
        support("10:00", peep_set=8),
        support("11:00", "Room Air"),
    ).rows
    assert rows == {
        "invasive, device named": 1,
        "invasive, device from a row before": 2,
        "invasive, with a named device or a ventilator's value": 2,
        "off, device named": 1,
    }


def test_where_a_course_began_is_the_place_then(tmp_path: Path):
    adt = [
        {"hospitalization_id": STAY, "in_dttm": at("00:00"), "location_category": "ed"},
        {"hospitalization_id": STAY, "in_dttm": at("07:00"), "location_category": "icu"},
        {"hospitalization_id": STAY, "in_dttm": at("20:00"), "location_category": "ward"},
    ]
    made = plan(tmp_path, support("08:00", "IMV", peep_set=8), adt=adt)
    assert made.began == {"icu": 1}


def test_zeros_that_meant_nothing_are_counted(tmp_path: Path):
    row = support("08:00", "IMV", peep_set=0, tidal_volume_obs=0, resp_rate_set=0)
    (planned,) = plan(tmp_path, row).courses
    assert planned.zeros == 2
