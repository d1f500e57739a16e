"""What a round asks for: required, carried by the last check, or too old before the next one."""

from datetime import timedelta

import pytest

from app.charting.facts import Kind
from app.rules.asked import asked_this_round
from app.rules.policy import starting_policy
from app.rules.unit_clock import UnitClock
from tests.charting.rows import AT, course, gas, later, row

POLICY = starting_policy()
LARCH = UnitClock("America/New_York")
# AT is 07:30 in the unit, the hour of a round; the next is at 11:30.
ROUND = timedelta(hours=4)
SIX = {
    "fio2_set": "45",
    "peep_set": "12",
    "tidal_volume_set": "400",
    "resp_rate_set": "20",
    "flow_rate_set": "60",
    "trigger_flow_set": "2",
}


def asked(*rows, family: str = "ac_vc", kind: Kind = Kind.FULL, at=AT + ROUND) -> frozenset[str]:
    return asked_this_round(course(*rows), family, kind, POLICY, LARCH, at)


def test_a_first_check_asks_for_what_is_required_and_for_the_cuff() -> None:
    first = asked()
    assert {*SIX, "resp_rate_obs", "plateau_pressure_obs", "spo2", "airway_depth_cm"} <= first
    assert "cuff_pressure_cmh2o" in first
    assert not first & {"position", "secretions_amount", "etco2_mmhg", "airway_side", "map"}


def test_marks_and_settings_of_the_last_check_are_asked_again() -> None:
    carried = row(**SIX, airway_side="left", humidifier_temp_c="37", flow_pattern="constant")
    assert {"airway_side", "humidifier_temp_c", "flow_pattern"} <= asked(carried)


def test_what_was_only_stated_is_not_asked_again() -> None:
    carried = row(**SIX, position="supine", secretions_amount="small", safe_suction="yes")
    assert not asked(carried) & {"position", "secretions_amount", "safe_suction"}


@pytest.mark.parametrize(("hours", "due"), [(4, False), (7, False), (8, True), (12, True)])
def test_a_cuff_is_due_when_it_would_be_too_old_before_the_next_check(hours, due) -> None:
    # Held for 12 h: read 8 h ago it would be too old at the next round, 4 h from now.
    seen = row(at=later(hours=4 - hours), cuff_pressure_cmh2o="26")
    assert ("cuff_pressure_cmh2o" in asked(seen)) is due


@pytest.mark.parametrize(("hours", "part"), [(4, True), (20, True), (21, False)])
def test_a_measured_value_of_more_than_a_day_ago_is_no_part_of_the_round(hours, part) -> None:
    seen = row(at=later(hours=4 - hours), etco2_mmhg="41")
    assert ("etco2_mmhg" in asked(seen)) is part


def test_a_setting_that_stands_in_for_another_is_asked_in_its_place() -> None:
    told = {**SIX, "trigger_pressure_set": "-2"}
    del told["trigger_flow_set"]
    assert "trigger_pressure_set" in asked(row(**told))
    assert "trigger_flow_set" not in asked(row(**told))


def test_a_stand_in_of_another_family_stands_for_nothing() -> None:
    assert "fio2_set" in asked(row("o2_mask", lpm_set="10", spo2="95"))


def test_a_brief_check_asks_only_for_what_it_requires() -> None:
    assert asked(row(**SIX), kind=Kind.BRIEF) == {"spo2", "resp_rate_obs"}


def test_a_gas_asks_for_what_the_last_slip_had() -> None:
    slip = gas(ph="7.31", paco2="52", pao2="68", hco3="25", lactate="1.1")
    required = {"gas_specimen", "ph", "paco2", "pao2"}
    assert asked(kind=Kind.GAS, family="") == required
    assert asked(slip, kind=Kind.GAS, family="") >= {*required, "hco3"}


def test_rows_that_do_not_count_or_come_later_ask_for_nothing() -> None:
    later_row = row(at=later(hours=5), **SIX, airway_side="left")
    assert "airway_side" not in asked(later_row)
