"""Which fields a check asks for, in each mode family and with each airway."""

import pytest

from app.charting.facts import Kind
from app.charting.field import Use
from app.charting.fields import FIELDS
from app.charting.fields.airway import CATEGORIES
from app.charting.mode_families import MODE_FAMILIES, UNKNOWN, family_of
from app.charting.uses import EITHER, fields_for, still_required, use_of
from app.charting.uses_by_airway import BY_AIRWAY
from app.charting.uses_by_family import MEASURED, SETTINGS

FAMILIES = (
    "ac_vc ac_pc ac_vtpc simv_vc simv_pc csv_ps csv_vtps cpap simv_vtpc bilevel aprv csv_prop niv "
    "hfnc o2_mask unassisted hfov manual standby other"
)
CODES = FAMILIES.split()


def codes(family: str, kind: Kind, airway: str = "") -> list[str]:
    return [field.code for field in fields_for(family, kind, airway)]


def test_there_are_the_twenty_families_and_each_stands_in_both_tables() -> None:
    assert sorted(MODE_FAMILIES) == sorted(CODES)
    assert set(SETTINGS) == set(MEASURED) == set(CODES)


def test_the_tables_name_only_declared_fields() -> None:
    named = {
        code for table in (SETTINGS, MEASURED, BY_AIRWAY) for row in table.values() for code in row
    }
    assert named <= set(FIELDS)
    assert {code for pair in EITHER for code in pair} <= set(FIELDS)
    assert {code for code, _ in CATEGORIES} | {""} == set(BY_AIRWAY)


@pytest.mark.parametrize("family", [*CODES, ""])
@pytest.mark.parametrize("airway", ["", "ett_oral", "trach", "mask", "none", "nothing_known"])
def test_every_family_resolves_every_field(family: str, airway: str) -> None:
    for kind in Kind:
        shown = set(codes(family, kind, airway))
        for code in FIELDS:
            assert (use_of(family, code, kind, airway) is not Use.HIDDEN) == (code in shown)


@pytest.mark.parametrize("family", CODES)
def test_fields_come_in_bedside_order(family: str) -> None:
    order = list(FIELDS)
    places = [order.index(code) for code in codes(family, Kind.FULL)]
    assert places == sorted(places)


def test_only_the_first_three_families_are_controlled() -> None:
    controlled = [code for code, family in MODE_FAMILIES.items() if family.controlled]
    assert controlled == ["ac_vc", "ac_pc", "ac_vtpc"]


def test_no_hold_means_anything_in_support_two_level_mask_and_high_flow() -> None:
    for code in ("csv_ps", "csv_vtps", "csv_prop", "cpap", "bilevel", "aprv", "niv", "hfnc"):
        assert not MODE_FAMILIES[code].mechanics_by_hold


def test_a_family_that_nobody_knows_allows_no_mechanics() -> None:
    assert family_of("") is UNKNOWN
    assert family_of("pixie") is UNKNOWN
    assert not UNKNOWN.mechanics_by_hold


def test_volume_control_requires_its_own_settings_and_pressure_control_its_own() -> None:
    assert use_of("ac_vc", "tidal_volume_set") is Use.REQUIRED
    assert use_of("ac_vc", "flow_rate_set") is Use.REQUIRED
    assert use_of("ac_vc", "pressure_control_set") is Use.HIDDEN
    assert use_of("ac_pc", "pressure_control_set") is Use.REQUIRED
    assert use_of("ac_pc", "tidal_volume_set") is Use.HIDDEN


def test_a_plateau_on_pressure_support_is_stored_with_a_tag_and_not_asked_for() -> None:
    assert use_of("csv_ps", "plateau_pressure_obs") is Use.TAGGED
    assert use_of("csv_ps", "peep_total") is Use.HIDDEN
    assert use_of("niv", "plateau_pressure_obs") is Use.HIDDEN


def test_cuff_and_depth_follow_the_airway_and_not_the_mode() -> None:
    assert use_of("csv_ps", "airway_depth_cm", airway_category="ett_oral") is Use.REQUIRED
    assert use_of("hfnc", "cuff_pressure_cmh2o", airway_category="trach") is Use.OPTIONAL
    assert use_of("ac_vc", "cuff_pressure_cmh2o", airway_category="mask") is Use.HIDDEN
    assert use_of("niv", "airway_depth_cm") is Use.HIDDEN
    assert use_of("ac_vc", "airway_depth_cm") is Use.OPTIONAL


def test_a_brief_check_is_short_and_asks_for_two_things() -> None:
    brief = fields_for("ac_vc", Kind.BRIEF, "ett_oral")
    assert len(brief) <= 20
    required = still_required("ac_vc", Kind.BRIEF, "ett_oral", ())
    assert [field.code for field in required] == ["spo2", "resp_rate_obs"]


def test_a_gas_asks_for_its_specimen_and_nothing_of_the_machine() -> None:
    assert codes("ac_vc", Kind.GAS)[0] == "gas_specimen"
    assert use_of("ac_vc", "gas_specimen", Kind.GAS) is Use.REQUIRED
    assert use_of("ac_vc", "peep_set", Kind.GAS) is Use.HIDDEN


def test_a_pressure_trigger_answers_for_the_flow_trigger() -> None:
    asked = still_required("ac_vc", Kind.FULL, "ett_oral", {"trigger_pressure_set"})
    assert "trigger_flow_set" not in [field.code for field in asked]
    asked = still_required("ac_vc", Kind.FULL, "ett_oral", ())
    assert "trigger_flow_set" in [field.code for field in asked]


def test_a_stand_in_counts_only_where_the_family_offers_it() -> None:
    asked = [field.code for field in still_required("ac_vc", Kind.FULL, "", {"lpm_set"})]
    assert "fio2_set" in asked
    asked = [field.code for field in still_required("o2_mask", Kind.FULL, "", {"lpm_set"})]
    assert "fio2_set" not in asked


def test_nothing_is_read_off_in_standby() -> None:
    assert use_of("standby", "resp_rate_obs") is Use.HIDDEN
    assert still_required("standby", Kind.FULL, "mask", ()) == ()
