"""Rows a few minutes apart become one check: the first value wins, and a conflict is told."""

from decimal import Decimal
from pathlib import Path

import pytest

from app.exchange.clif_rounds import Conflict, Round, rounds_of
from tests.exchange.clif_folder import at, device_rows, support

VOLUME, SUPPORT = "Assist Control-Volume Control", "Pressure Support/CPAP"


def rounds(folder: Path, *rows: dict) -> tuple[Round, ...]:
    return rounds_of(device_rows(folder, *rows))


@pytest.mark.parametrize(
    ("clock", "checks"), [("08:14:59", 1), ("08:15", 1), ("08:15:01", 2), ("08:16", 2)]
)
def test_a_row_up_to_fifteen_minutes_after_the_first_completes_it(
    tmp_path: Path, clock: str, checks: int
):
    found = rounds(
        tmp_path, support("08:00", "IMV", peep_set=8), support(clock, "IMV", fio2_set=0.4)
    )
    assert len(found) == checks


def test_the_fifteen_minutes_count_from_the_first_row_not_from_the_last(tmp_path: Path):
    found = rounds(
        tmp_path,
        support("08:00", "IMV", peep_set=8),
        support("08:10", peep_obs=8),
        support("08:20", fio2_set=0.4),
    )
    assert [one.at for one in found] == [at("08:00"), at("08:20")]


def test_the_first_value_wins_and_the_other_is_told(tmp_path: Path):
    (found,) = rounds(
        tmp_path, support("08:00", "IMV", peep_set=8), support("08:05", peep_set=10, fio2_set=0.4)
    )
    assert found.values == {"peep_set": Decimal(8), "fio2_set": Decimal("0.4")}
    assert found.conflicts == [Conflict(at("08:05"), "peep_set", Decimal(8), Decimal(10))]


def test_the_same_value_twice_is_no_conflict(tmp_path: Path):
    (found,) = rounds(
        tmp_path, support("08:00", "IMV", peep_set=8), support("08:05", "IMV", peep_set=8)
    )
    assert found.conflicts == []


def test_a_mode_named_later_in_the_round_beats_the_one_in_force(tmp_path: Path):
    found = rounds(
        tmp_path,
        support("04:00", "IMV", SUPPORT),
        support("08:00", plateau_pressure_obs=20),
        support("08:02", "IMV", VOLUME),
    )
    assert found[1].family == "ac_vc"


def test_another_mode_named_within_the_quarter_hour_is_another_check(tmp_path: Path):
    found = rounds(
        tmp_path,
        support("08:00", "IMV", VOLUME, peep_set=8),
        support("08:10", "IMV", SUPPORT, peep_set=5),
    )
    assert [one.family for one in found] == ["ac_vc", "csv_ps"]


def test_another_device_within_the_quarter_hour_is_another_check(tmp_path: Path):
    found = rounds(tmp_path, support("08:00", "IMV"), support("08:05", "NIPPV"))
    assert [one.family for one in found] == ["", "niv"]


@pytest.mark.parametrize("column", ["peep_set", "pressure_support_set", "peep_obs"])
def test_zero_is_legal_for_peep_and_pressure_support(tmp_path: Path, column: str):
    (found,) = rounds(tmp_path, support("08:00", "IMV", **{column: 0}))
    assert found.values == {column: Decimal(0)}


@pytest.mark.parametrize(
    "column",
    ["fio2_set", "tidal_volume_set", "resp_rate_obs", "plateau_pressure_obs", "minute_vent_obs"],
)
def test_any_other_zero_means_that_nothing_was_read(tmp_path: Path, column: str):
    (found,) = rounds(tmp_path, support("08:00", "IMV", **{column: 0}))
    assert (found.values, found.zeros) == ({}, 1)


def test_a_zero_gives_way_to_the_value_of_a_later_row(tmp_path: Path):
    (found,) = rounds(
        tmp_path,
        support("08:00", "IMV", tidal_volume_obs=0),
        support("08:05", tidal_volume_obs=420),
    )
    assert (found.values["tidal_volume_obs"], found.conflicts) == (Decimal(420), [])
