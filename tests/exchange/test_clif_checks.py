"""What a person would have typed: the text of each value, and the two things the import infers."""

from decimal import Decimal
from pathlib import Path

import pytest

from app.charting.facts import Kind
from app.charting.fields import FIELDS
from app.exchange.clif_beside import NOTHING, Beside
from app.exchange.clif_checks import FIELD_OF, ClifCheck, as_typed, check_of, gas_of, plain
from app.exchange.clif_columns import SUPPORT_NUMBERS
from app.exchange.clif_gases import samples_of
from app.exchange.clif_rounds import rounds_of
from app.exchange.clif_rows import Finding
from tests.exchange.clif_folder import STAY, at, device_rows, lab, support, tables

VOLUME, SUPPORT = "Assist Control-Volume Control", "Pressure Support/CPAP"


def check(folder: Path, row: dict, beside: Beside = NOTHING) -> ClifCheck | None:
    (found,) = rounds_of(device_rows(folder, row))
    return check_of(found, beside)


@pytest.mark.parametrize(
    ("field", "value", "typed"),
    [
        ("fio2_set", "0.35", "35"),
        ("fio2_set", "1.0", "100"),
        ("fio2_set", "0.455", "45.5"),
        ("fio2_set", "40", "40"),
        ("tidal_volume_obs", "450.0", "450"),
        ("tidal_volume_obs", "585573.0", "585573"),
        ("minute_vent_obs", "9.76", "9.76"),
        ("ph", "7.4", "7.4"),
        ("resp_rate_set", "1E+1", "10"),
    ],
)
def test_a_value_is_typed_as_a_person_would(field: str, value: str, typed: str):
    assert as_typed(FIELDS[field], Decimal(value)) == typed


def test_three_decimals_get_a_fourth_so_that_no_one_reads_thousands():
    assert plain(Decimal("1.234")) == "1.2340"


@pytest.mark.parametrize(
    ("unit", "typed"), [("mmHg", "12"), ("MMHG", "12"), ("", "12"), ("kPa", "12 kPa")]
)
def test_a_unit_of_its_own_is_typed_behind_the_number(unit: str, typed: str):
    assert as_typed(FIELDS["pao2"], Decimal(12), unit) == typed


def test_every_number_column_of_support_is_a_field():
    assert set(SUPPORT_NUMBERS) <= set(FIELD_OF)


def test_a_row_with_nothing_read_makes_no_check_even_beside_vital_signs(tmp_path: Path):
    vitals = Beside([Finding(STAY, at("08:00"), "spo2", Decimal(95))], [])
    assert check(tmp_path, support("08:00", "IMV", VOLUME), vitals) is None


def test_peep_charted_with_a_plateau_counts_as_total_peep_and_says_so(tmp_path: Path):
    found = check(tmp_path, support("08:00", "IMV", peep_obs=9, plateau_pressure_obs=20))
    assert found.typed == {"peep_total": "9", "plateau_pressure_obs": "20"}
    assert found.inferred == {"peep_total"}


def test_peep_charted_without_a_plateau_is_what_the_machine_shows(tmp_path: Path):
    found = check(tmp_path, support("08:00", "IMV", peep_obs=9))
    assert (found.typed, found.inferred) == ({"peep_obs": "9"}, frozenset())


@pytest.mark.parametrize(
    ("total", "passive"), [(17, True), (18, True), (19, True), (20, False), (None, False)]
)
def test_a_hold_is_passive_up_to_one_breath_over_the_set_rate(
    tmp_path: Path, total: int | None, passive: bool
):
    row = support(
        "08:00", "IMV", VOLUME, plateau_pressure_obs=20, resp_rate_set=18, resp_rate_obs=total
    )
    found = check(tmp_path, row)
    assert (found.typed.get("hold_passive") == "yes") is passive
    assert ("hold_passive" in found.inferred) is passive


@pytest.mark.parametrize(
    "mode", [SUPPORT, "SIMV", "Volume Support", "Other", None], ids=lambda mode: mode or "blank"
)
def test_a_hold_is_never_taken_as_passive_outside_the_controlled_families(
    tmp_path: Path, mode: str | None
):
    row = support("08:00", "IMV", mode, plateau_pressure_obs=20, resp_rate_set=18, resp_rate_obs=18)
    assert "hold_passive" not in check(tmp_path, row).typed


def test_without_a_plateau_there_is_no_hold_to_speak_of(tmp_path: Path):
    row = support("08:00", "IMV", VOLUME, resp_rate_set=18, resp_rate_obs=18)
    assert "hold_passive" not in check(tmp_path, row).typed


def test_without_a_set_rate_a_hold_is_not_taken_as_passive(tmp_path: Path):
    row = support("08:00", "IMV", VOLUME, plateau_pressure_obs=20, resp_rate_obs=18)
    assert "hold_passive" not in check(tmp_path, row).typed


def test_a_set_rate_that_will_be_refused_proves_nothing(tmp_path: Path):
    row = support(
        "08:00", "IMV", VOLUME, plateau_pressure_obs=20, resp_rate_set=151, resp_rate_obs=18
    )
    assert "hold_passive" not in check(tmp_path, row).typed


def test_control_pressure_is_taken_as_above_peep_and_says_so(tmp_path: Path):
    found = check(tmp_path, support("08:00", "IMV", "Pressure Control", pressure_control_set=14))
    assert found.inferred == {"pressure_control_set"}


@pytest.mark.parametrize(
    ("row", "kind"),
    [
        ({"peep_set": 8, "tidal_volume_obs": 400}, Kind.FULL),
        ({"fio2_set": 0.4, "tidal_volume_obs": 400}, Kind.BRIEF),
        ({"peep_set": 8}, Kind.BRIEF),
        ({"tidal_volume_obs": 400}, Kind.BRIEF),
    ],
)
def test_a_whole_check_has_a_setting_beside_fio2_and_a_measurement(
    tmp_path: Path, row: dict, kind: Kind
):
    assert check(tmp_path, support("08:00", "IMV", VOLUME, **row)).kind is kind


def test_vital_signs_join_under_their_own_names(tmp_path: Path):
    vitals = [
        Finding(STAY, at("08:01"), name, Decimal(value))
        for name, value in (("spo2", 95), ("map", 71), ("respiratory_rate", 22))
    ]
    found = check(tmp_path, support("08:00", "IMV", peep_set=8), Beside(vitals, []))
    assert found.typed == {"peep_set": "8", "spo2": "95", "map": "71"}


@pytest.mark.parametrize(("counted", "typed"), [(None, "22"), (25, "25")])
def test_on_high_flow_the_monitors_rate_stands_in_for_a_count(
    tmp_path: Path, counted: int | None, typed: str
):
    vitals = Beside([Finding(STAY, at("08:01"), "respiratory_rate", Decimal(22))], [])
    row = support("08:00", "High Flow NC", fio2_set=0.5, lpm_set=40, resp_rate_obs=counted)
    assert check(tmp_path, row, vitals).typed["resp_rate_obs"] == typed


def test_a_gas_carries_its_specimen_and_leaves_its_fio2_to_the_one_in_force(tmp_path: Path):
    labs = [lab("08:02", "ph_arterial", 7.31), lab("08:02", "po2_arterial", 10.5, "kPa")]
    (sample,) = samples_of(tables(tmp_path, support("08:00", "IMV"), labs=labs).labs)
    found = gas_of(sample)
    assert found.typed == {"gas_specimen": "arterial", "ph": "7.31", "pao2": "10.5 kPa"}
    assert (found.kind, found.at) == (Kind.GAS, at("08:02"))
