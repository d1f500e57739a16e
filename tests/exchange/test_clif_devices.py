"""Which device and which mode a row stands under, where it does not say so itself."""

from pathlib import Path

import pytest

from app.exchange.clif_devices import (
    DEVICES,
    FAMILIES,
    Device,
    DeviceSource,
    family_of_mode,
)
from tests.exchange.clif_folder import device_rows, support

VOLUME = "Assist Control-Volume Control"


def test_a_row_without_a_device_has_the_one_named_before(tmp_path: Path):
    rows = device_rows(tmp_path, support("08:00", "IMV"), support("09:00", fio2_set=0.4))
    assert (rows[1].device, rows[1].device_source) == (Device.INVASIVE, DeviceSource.BEFORE)


def test_the_first_rows_have_the_device_named_next(tmp_path: Path):
    rows = device_rows(tmp_path, support("08:00", fio2_set=0.4), support("09:00", "High Flow NC"))
    assert (rows[0].device, rows[0].device_source) == (Device.HIGH_FLOW, DeviceSource.AFTER)


def test_a_stay_that_never_names_a_device_is_off_support(tmp_path: Path):
    (row,) = device_rows(tmp_path, support("08:00", fio2_set=0.4))
    assert (row.device, row.device_source) == (Device.OFF, DeviceSource.UNKNOWN)


def test_a_plateau_behind_a_plain_mask_belongs_to_the_tube_named_next(tmp_path: Path):
    rows = device_rows(
        tmp_path,
        support("08:00", "Face Mask", fio2_set=0.5),
        support("09:00", plateau_pressure_obs=20),
        support("09:40", "IMV"),
    )
    assert rows[1].device is Device.INVASIVE


def test_oxygen_alone_behind_a_plain_mask_stays_with_the_mask(tmp_path: Path):
    rows = device_rows(
        tmp_path,
        support("08:00", "Face Mask"),
        support("09:00", fio2_set=0.5, lpm_set=10, resp_rate_obs=20),
        support("09:40", "IMV"),
    )
    assert rows[1].device is Device.OXYGEN


def test_a_plateau_between_two_plain_masks_stays_with_the_mask(tmp_path: Path):
    rows = device_rows(
        tmp_path,
        support("08:00", "Face Mask"),
        support("09:00", plateau_pressure_obs=20),
        support("09:40", "Nasal Cannula"),
    )
    assert rows[1].device is Device.OXYGEN


@pytest.mark.parametrize(("mode", "family"), sorted(FAMILIES.items()))
def test_each_mode_category_has_its_family(mode: str, family: str):
    assert family_of_mode(Device.INVASIVE, mode.title()) == family


@pytest.mark.parametrize("mode", ["Other", "Blow by", "pressure support"])
def test_any_other_mode_is_none_of_the_families(mode: str):
    assert family_of_mode(Device.INVASIVE, mode) == "other"


@pytest.mark.parametrize(
    ("device", "family"), [("NIPPV", "niv"), ("CPAP", "niv"), ("High Flow NC", "hfnc")]
)
def test_outside_a_tube_the_device_says_the_family(tmp_path: Path, device: str, family: str):
    (row,) = device_rows(tmp_path, support("08:00", device, "Pressure Support/CPAP"))
    assert row.family == family


@pytest.mark.parametrize(
    ("later", "family"), [("15:59", "ac_vc"), ("16:00", "ac_vc"), ("16:01", "")]
)
def test_a_blank_mode_is_the_one_in_force_up_to_eight_hours_old(
    tmp_path: Path, later: str, family: str
):
    rows = device_rows(tmp_path, support("08:00", "IMV", VOLUME), support(later, "IMV"))
    assert rows[1].family == family


def test_a_blank_mode_does_not_renew_the_one_in_force(tmp_path: Path):
    rows = device_rows(
        tmp_path,
        support("08:00", "IMV", VOLUME),
        support("15:00", "IMV"),
        support("17:00", "IMV"),
    )
    assert rows[2].family == ""


def test_a_mode_from_before_the_tube_was_out_is_not_in_force(tmp_path: Path):
    rows = device_rows(
        tmp_path,
        support("08:00", "IMV", VOLUME),
        support("09:00", "Face Mask"),
        support("10:00", "IMV"),
    )
    assert [row.family for row in rows] == ["ac_vc", "o2_mask", ""]


def test_devices_are_read_whatever_their_capitals(tmp_path: Path):
    rows = device_rows(tmp_path, support("08:00", "imv"), support("09:00", "NIPPV"))
    assert [row.device for row in rows] == [Device.INVASIVE, Device.MASK]
    assert all(name == name.lower() for name in DEVICES)
