"""Every field once, with sane ranges, and understood by the code that reads what is typed."""

import re
from decimal import Decimal

import pytest

from app.charting.field import Field, Group, Manner, Shape
from app.charting.fields import FIELDS, in_group
from app.charting.unit_words import unit_of

DECLARED = """
bed mrn name birth_date age_y pbw_sex height_cm height_method weight_kg support_started_at
reason_for_support code_limits isolation allergies difficult_airway device_id spo2_target_low
spo2_target_high
airway_category airway_size_mm airway_size_label laryngectomy airway_depth_cm
airway_depth_reference airway_side securement tip_above_carina_cm cuff_state cuff_pressure_cmh2o
speaking_valve leak_audible cuff_leak_ml airway_skin
mode_family fio2_set peep_set tidal_volume_set resp_rate_set pressure_control_set
pressure_support_set inspiratory_time_set flow_rate_set flow_pattern inspiratory_pause_set
rise_time_set trigger_flow_set trigger_pressure_set cycle_off_set pressure_limit_set
pressure_high_set pressure_low_set time_high_set time_low_set ipap_set lpm_set hfnc_temp_c
apnea_time_set apnea_backup_rate_set tidal_volume_target_ml_kg ordered_by orders_match
change_reason nitric_oxide_ppm ecmo_sweep_lpm ecmo_flow_lpm ecmo_fdo2
resp_rate_obs resp_rate_spont_obs tidal_volume_obs tidal_volume_spont_obs minute_vent_obs
peak_inspiratory_pressure_obs plateau_pressure_obs hold_passive peep_obs peep_total
mean_airway_pressure_obs exp_flow_to_zero leak_percent leak_lpm p01_cmh2o mip_cmh2o
vital_capacity_ml etco2_mmhg etco2_waveform spo2 heart_rate map sbp dbp temp_c rass rass_target nmb
tof synchrony cough secretions_amount secretions_colour secretions_consistency breath_sounds
work_of_breathing position head_of_bed_deg
ph paco2 pao2 sao2 hco3 base_excess lactate hemoglobin gas_specimen fio2_at_sample
alarm_pressure_high alarm_minute_vent_low alarm_minute_vent_high alarm_tidal_volume_low
alarm_tidal_volume_high alarm_resp_rate_high alarm_apnea_s alarm_pressure_low alarm_peep_low
alarm_spo2_low humidifier humidifier_temp_c circuit_changed_on filter_changed_on
humidifier_changed_on suction_changed_on safe_bag_mask safe_suction safe_oxygen safe_power_outlet
safe_spare_airway safe_alarm_audible safe_humidifier_filled safe_expiratory_filter pre_use_check
pre_use_check_passed_at
"""

ALL = list(FIELDS.values())
NUMBERS = [field for field in ALL if field.shape is Shape.NUMBER]
CHOICES = [field for field in ALL if field.shape is Shape.CHOICE]


def by_code(field: Field) -> str:
    return field.code


def test_every_code_of_the_vocabulary_is_declared_and_no_other() -> None:
    assert sorted(FIELDS) == sorted(DECLARED.split())


def test_fields_come_in_the_order_of_the_round() -> None:
    groups = list(Group)
    places = [groups.index(field.group) for field in ALL]
    assert places == sorted(places)


def test_every_group_has_fields() -> None:
    assert all(in_group(group) for group in Group)


@pytest.mark.parametrize("field", ALL, ids=by_code)
def test_a_field_has_a_label_a_line_of_help_and_a_source(field: Field) -> None:
    assert field.label
    assert field.help
    assert field.source
    assert "\n" not in field.help


@pytest.mark.parametrize("field", NUMBERS, ids=by_code)
def test_the_asked_band_lies_inside_the_hard_range(field: Field) -> None:
    assert field.hard is not None
    assert field.hard.low is not None
    assert field.hard.high is not None
    assert field.hard.low < field.hard.high
    for end in (field.soft.low, field.soft.high) if field.soft else ():
        assert end is not None
        assert field.hard.holds(end)


@pytest.mark.parametrize("field", NUMBERS, ids=by_code)
def test_a_step_is_above_zero_and_shown_by_the_fields_places(field: Field) -> None:
    assert field.step is not None
    assert field.step > 0
    assert field.step == round(field.step, field.places)


@pytest.mark.parametrize("field", NUMBERS, ids=by_code)
def test_a_field_understands_its_own_units(field: Field) -> None:
    assert [unit_of(unit, field) for unit in field.accepted_units] == list(field.accepted_units)
    assert not field.unit or field.unit == field.accepted_units[0]


@pytest.mark.parametrize("field", CHOICES, ids=by_code)
def test_a_choice_has_at_least_two_answers_with_codes_and_labels_of_their_own(
    field: Field,
) -> None:
    codes = [choice.code for choice in field.choices]
    labels = [choice.label.casefold() for choice in field.choices]
    assert len(codes) >= 2
    assert len(set(codes)) == len(codes)
    assert len(set(labels)) == len(labels)
    assert all(re.fullmatch(r"[a-zA-Z0-9_]+", code) for code in codes)


def test_safety_ticks_are_yes_or_no() -> None:
    ticks = [field for field in in_group(Group.SAFETY) if field.code.startswith("safe_")]
    assert all([choice.code for choice in tick.choices] == ["yes", "no"] for tick in ticks)


def test_a_setting_and_a_mark_may_be_confirmed_and_a_measurement_may_not() -> None:
    assert FIELDS["peep_set"].confirmable
    assert FIELDS["airway_depth_cm"].confirmable
    assert FIELDS["humidifier_temp_c"].confirmable
    assert not FIELDS["plateau_pressure_obs"].confirmable
    assert not FIELDS["cuff_pressure_cmh2o"].confirmable
    assert not FIELDS["safe_suction"].confirmable


def test_what_the_machine_is_told_is_a_setting_and_what_is_seen_is_measured() -> None:
    for field in ALL:
        if field.code.startswith("alarm_") or field.code.endswith("_set"):
            assert field.manner is Manner.SETTING
        if field.code.endswith("_obs"):
            assert field.manner is Manner.MEASURED


@pytest.mark.parametrize(
    ("code", "routine"),
    [
        ("peep_set", ("0", "5", "20")),
        ("plateau_pressure_obs", ("5", "30", "35")),
        ("resp_rate_obs", ("4", "50")),
        ("tidal_volume_set", ("150", "800")),
        ("pressure_support_set", ("0", "12")),
    ],
)
def test_routine_values_are_not_asked_about(code: str, routine: tuple[str, ...]) -> None:
    band = FIELDS[code].soft
    assert band is not None
    assert all(band.holds(Decimal(value)) for value in routine)


def test_a_choices_label_is_found_by_its_code_and_an_unknown_code_shows_itself() -> None:
    assert FIELDS["airway_category"].label_of("trach") == "Tracheostomy"
    assert FIELDS["airway_category"].label_of("cuffless") == "cuffless"
