"""What holds at a moment, and what ends it: eight hours, another mode, standby."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.airways import tubes_moved
from app.charting.event_facts import Event
from app.charting.in_force import airway_at, each_in_force, going_on, in_force
from tests.charting.rows import AT, airway, gas, later, row


def test_a_setting_holds_until_it_is_charted_anew() -> None:
    rows = (row(peep_set=8), row(at=later(hours=1), spo2=94), row(at=later(hours=2), peep_set=10))
    assert in_force(rows, later(hours=1)).settings["peep_set"].number == Decimal(8)
    assert in_force(rows, later(hours=2)).settings["peep_set"].number == Decimal(10)
    assert "spo2" not in in_force(rows, later(hours=2)).settings


@pytest.mark.parametrize(("hours", "held"), [(7.99, True), (8, True), (8.01, False)])
def test_a_setting_and_a_mode_hold_for_eight_hours(hours: float, held: bool) -> None:
    holds = in_force((row(peep_set=8),), later(hours=hours))
    assert ("peep_set" in holds.settings) is held
    assert (holds.family == "ac_vc") is held


def test_rows_after_the_moment_and_rows_that_do_not_count_are_not_looked_at() -> None:
    struck = replace(row(at=later(hours=1), peep_set=12), struck="another patient's")
    draft = replace(row(at=later(hours=1), peep_set=14), signed=False)
    rows = (row(peep_set=8), struck, draft, row(at=later(hours=3), peep_set=16))
    assert in_force(rows, later(hours=2)).settings["peep_set"].number == Decimal(8)


def test_a_new_mode_ends_the_settings_that_it_does_not_know() -> None:
    rows = (
        row("ac_vc", tidal_volume_set=400, peep_set=8, alarm_pressure_high=40),
        row("csv_ps", at=later(hours=1), pressure_support_set=10),
        row("ac_vc", at=later(hours=2), peep_set=8),
    )
    support = in_force(rows, later(hours=1)).settings
    assert "tidal_volume_set" not in support
    assert {"peep_set", "pressure_support_set", "alarm_pressure_high"} <= set(support)
    back = in_force(rows, later(hours=2)).settings
    assert "tidal_volume_set" not in back
    assert "pressure_support_set" not in back


def test_standby_ends_every_setting_of_the_machine() -> None:
    rows = (row(fio2_set=40, peep_set=8), row("standby", at=later(hours=1)))
    assert in_force(rows, later(hours=1)).settings == {}


def test_the_machines_oxygen_ends_when_a_patient_goes_to_a_mask() -> None:
    rows = (row("csv_ps", fio2_set=40), row("o2_mask", at=later(hours=1), lpm_set=6))
    assert "fio2_set" not in in_force(rows, later(hours=1)).settings
    told = (*rows, row("o2_mask", at=later(hours=2), fio2_set=35))
    assert in_force(told, later(hours=2)).settings["fio2_set"].number == Decimal(35)


def test_a_blank_mode_is_the_one_in_force() -> None:
    rows = (row("csv_ps", peep_set=8), row("", at=later(hours=1), spo2=94))
    assert in_force(rows, later(hours=1)).family == "csv_ps"


def test_when_the_oxygen_was_last_changed_is_known_and_a_confirmation_is_no_change() -> None:
    rows = (
        row(fio2_set=60),
        row(at=later(hours=1), fio2_set=40),
        row(at=later(hours=2), fio2_set=40),
    )
    assert in_force(rows, AT).oxygen_changed_at is None
    assert in_force(rows, later(hours=2)).oxygen_changed_at == later(hours=1)


def test_a_gas_of_the_same_minute_knows_the_checks_settings_whichever_stands_first() -> None:
    check, drawn = row(fio2_set=40), gas(pao2=90)
    for rows in ((check, drawn), (drawn, check)):
        holds = {known.id: what for known, what in each_in_force(rows)}
        assert all("fio2_set" in what.settings for what in holds.values())


def test_the_airway_in_place_is_the_newest_before_the_moment() -> None:
    oral, trach = airway(), airway("trach", at=later(hours=1))
    assert airway_at((oral, trach), AT) is oral
    assert airway_at((oral, trach), later(hours=1)) is trach
    assert airway_at((trach,), AT) is None


def test_an_event_goes_on_from_its_start_until_its_end() -> None:
    away = Event("e", "away", AT, later(hours=1), "", "ash")
    assert going_on((away,), "away", later(minutes=-1)) is None
    assert going_on((away,), "away", AT) is away
    assert going_on((away,), "away", later(hours=1)) is None
    assert going_on((away,), "prone", AT) is None
    assert going_on((replace(away, ended_at=None),), "away", later(hours=9)) is not None


TUBE = airway()
OUT = replace(airway("none", later(hours=1)), act="removed")
BACK_IN = airway(at=later(hours=3))


@pytest.mark.parametrize(
    ("airways", "family", "minutes", "held"),
    [
        ((TUBE, OUT), "ac_vc", 59, True),
        ((TUBE, OUT), "ac_vc", 60, False),
        ((TUBE, OUT), "ac_vc", 61, False),
        ((TUBE, OUT), "hfnc", 61, True),
        ((TUBE,), "hfnc", 61, True),
        ((TUBE, OUT, BACK_IN), "hfnc", 179, True),
        ((TUBE, OUT, BACK_IN), "hfnc", 180, False),
        ((TUBE, OUT, BACK_IN), "o2_mask", 181, True),
    ],
)
def test_a_tube_that_comes_or_goes_ends_what_cannot_go_on(airways, family, minutes, held) -> None:
    rows = (row(family, fio2_set=40),)
    holds = in_force(rows, later(minutes=minutes), tubes=tubes_moved(airways))
    assert (holds.family == family) is held
    assert ("fio2_set" in holds.settings) is held


def test_support_that_is_charted_after_the_tube_came_out_holds() -> None:
    rows = (row(peep_set=8), row("hfnc", at=later(hours=1), fio2_set=50))
    holds = in_force(rows, later(hours=2), tubes=tubes_moved((TUBE, OUT)))
    assert (holds.family, set(holds.settings)) == ("hfnc", {"fio2_set"})
