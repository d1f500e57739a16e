"""From what is seen to a form: kept, typed, not measured."""

from datetime import UTC, datetime

from app.charting.facts import Kind
from app.charting.uses import still_required
from seed_demo.checks import Sheet
from seed_demo.usual import SEDATED, volume_control

AT = datetime(2026, 3, 5, 12, tzinfo=UTC)
FAMILY, SETTINGS = volume_control(400, 18, 8, 45)
SEEN = {**SEDATED, **SETTINGS, "spo2": "95", "heart_rate": "80"}


def test_the_first_check_types_everything():
    check = Sheet().full(AT, FAMILY, "ett_oral", SEEN, {})
    assert check.kept == frozenset()
    assert check.typed["peep_set"] == "8"


def test_the_next_check_keeps_what_can_be_confirmed_and_types_what_is_measured():
    sheet = Sheet()
    sheet.full(AT, FAMILY, "ett_oral", SEEN, {})
    check = sheet.full(AT, FAMILY, "ett_oral", SEEN, {})
    assert {"peep_set", "humidifier_temp_c"} <= check.kept
    assert {"spo2", "heart_rate"} <= check.typed.keys()


def test_a_changed_setting_is_typed():
    sheet = Sheet()
    sheet.full(AT, FAMILY, "ett_oral", SEEN, {})
    check = sheet.full(AT, FAMILY, "ett_oral", {**SEEN, "peep_set": "10"}, {})
    assert check.typed["peep_set"] == "10"
    assert "peep_set" not in check.kept


def test_what_is_required_and_unseen_gets_a_reason():
    check = Sheet().full(AT, FAMILY, "ett_oral", SEEN, {"plateau_pressure_obs": "effort"})
    answered = {*check.typed, *check.kept, *check.reasons}
    assert still_required(FAMILY, Kind.FULL, "ett_oral", answered) == ()
    assert check.reasons["plateau_pressure_obs"] == "effort"


def test_a_value_with_a_reason_beside_it_is_not_typed():
    seen = {**SEEN, "plateau_pressure_obs": "24"}
    check = Sheet().full(AT, FAMILY, "ett_oral", seen, {"plateau_pressure_obs": "effort"})
    assert "plateau_pressure_obs" not in check.typed


def test_a_brief_check_says_what_changed_and_how_it_was_answered():
    sheet = Sheet()
    sheet.full(AT, FAMILY, "ett_oral", SEEN, {})
    seen = {**SEEN, "fio2_set": "40", "spo2": "93", "change_reason": "SpO2 97 %"}
    check = sheet.brief(AT, FAMILY, "ett_oral", seen)
    assert check.typed == {"fio2_set": "40", "spo2": "93", "change_reason": "SpO2 97 %"}
