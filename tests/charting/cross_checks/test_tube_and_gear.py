"""Tube, cuff, humidifier and alarm limits: under, at, over and missing."""

from decimal import Decimal

import pytest

from app.charting.cross_checks import Weight
from tests.charting.cross_checks.held import around, codes, found, in_force
from tests.charting.rows import airway, later, row


def tube_moved(depth: str, **changes: object) -> set[str]:
    context: dict[str, object] = {"airway": airway(depth="22"), **changes}
    return codes(row(airway_depth_cm=depth), around(**context))


@pytest.mark.parametrize(
    ("depth", "said"), [("22.5", False), ("23", True), ("21", True), ("21.5", False)]
)
def test_a_depth_that_moved_by_a_centimetre_is_asked(depth: str, said: bool) -> None:
    assert ("depth_changed" in tube_moved(depth)) is said


def test_the_newest_depth_counts_whether_read_or_placed() -> None:
    read_later = in_force(airway_depth_cm="24", airway_depth_reference="lip")
    assert "depth_changed" not in tube_moved("24", previous=read_later)
    same_time = airway(at=later(hours=-1), depth="22")
    assert "depth_changed" not in tube_moved("24", previous=read_later, airway=same_time)
    exchanged = airway(at=later(minutes=-5), depth="22")
    assert "depth_changed" in tube_moved("24", previous=read_later, airway=exchanged)
    assert "depth_changed" not in tube_moved("22", previous=read_later, airway=exchanged)


def test_a_depth_needs_a_reference_and_is_compared_only_at_the_same_one() -> None:
    assert codes(row(airway_depth_cm=22)) == {"depth_without_reference"}
    other = row(airway_depth_cm=24, airway_depth_reference="teeth")
    assert codes(other, around(airway=airway())) == {"depth_reference_changed"}


def test_another_tube_size_without_an_exchange_blocks() -> None:
    context = around(airway=airway())
    finding = found(row(airway_size_mm="8.0"), context)["tube_size_changed"]
    assert finding.weight is Weight.BLOCK
    assert codes(row(airway_size_mm="7.50"), context) == set()
    assert codes(row(airway_size_mm="8.0")) == set()


def test_a_cuff_pressure_needs_a_cuff_that_is_up() -> None:
    code = "cuff_pressure_without_cuff"
    assert code in codes(row(cuff_pressure_cmh2o=25, cuff_state="down"))
    assert code not in codes(row(cuff_pressure_cmh2o=25, cuff_state="up"))
    assert code not in codes(row(cuff_pressure_cmh2o=25))


def test_a_speaking_valve_on_an_inflated_cuff_blocks() -> None:
    finding = found(row("o2_mask", speaking_valve="yes", cuff_state="up"))
    assert finding["speaking_valve_on_a_cuff"].weight is Weight.BLOCK
    assert codes(row("o2_mask", speaking_valve="yes", cuff_state="down")) == set()


def test_two_humidifiers_block_and_one_does_not() -> None:
    finding = found(row(humidifier="hme_with_heated_found"))["two_humidifiers"]
    assert finding.weight is Weight.BLOCK
    assert codes(row(humidifier="hme")) == set()


@pytest.mark.parametrize(("volume", "said"), [(299, True), (300, False), (301, False)])
def test_an_hme_with_a_low_volume_is_hinted_at(volume: int, said: bool) -> None:
    small = row(humidifier="hme", tidal_volume_obs=volume)
    assert ("hme_with_low_volume" in codes(small, around(pbw_kg=Decimal(50)))) is said
    assert "hme_with_low_volume" not in codes(small)


def test_an_hme_with_a_mask_or_thick_secretions_is_hinted_at() -> None:
    assert "hme_with_mask" in codes(row("niv", humidifier="hme"))
    assert "hme_with_secretions" in codes(row(humidifier="hme", secretions_consistency="plug"))
    assert codes(row("niv", humidifier="heated", secretions_consistency="plug")) == set()


@pytest.mark.parametrize(
    ("limit", "code"),
    [
        (29, "pressure_alarm_under_peak"),
        (30, "pressure_alarm_under_peak"),
        (31, None),
        (50, None),
        (51, "pressure_alarm_wide"),
    ],
)
def test_a_pressure_alarm_is_held_against_the_peak(limit: int, code: str | None) -> None:
    said = codes(row(alarm_pressure_high=limit, peak_inspiratory_pressure_obs=30))
    assert said == ({code} if code else set())


@pytest.mark.parametrize(("limit", "said"), [("6.9", False), ("7", True), ("7.1", True)])
def test_a_low_minute_volume_alarm_lies_below_the_minute_volume(limit: str, said: bool) -> None:
    alarm = row(alarm_minute_vent_low=limit, minute_vent_obs=7)
    assert ("minute_volume_alarm_above" in codes(alarm)) is said
