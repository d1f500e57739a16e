"""The simulated therapist's rules, each at its boundary."""

import pytest

from seed_demo.story import Room, Who
from seed_demo.support import Support
from seed_demo.therapist import decide
from seed_demo.usual import volume_control

WHO = Who("P-99", 50, "M", spo2=(88, 95))
WIDE = Room(fio2=(30, 90), peep=(5, 14), volume_floor_ml=320, rate=(16, 28))


def on(volume=400, rate=20, peep=10, fio2=50) -> Support:
    return Support(*volume_control(volume, rate, peep, fio2))


def settings(seen: dict[str, str], support: Support, room: Room = WIDE) -> dict[str, str]:
    change = decide(seen, support, WHO, room)
    return dict(change.settings) if change else {}


@pytest.mark.parametrize(
    ("spo2", "after"),
    [("87", {"fio2_set": "60"}), ("88", {}), ("95", {}), ("96", {"fio2_set": "45"})],
    ids=["under", "at the lower end", "at the upper end", "over"],
)
def test_oxygen_follows_the_ordered_band(spo2, after):
    assert settings({"spo2": spo2}, on()) == after


def test_nothing_seen_changes_nothing():
    assert settings({}, on()) == {}


def test_on_much_oxygen_peep_goes_up_first():
    assert settings({"spo2": "86"}, on(fio2=60, peep=12)) == {"peep_set": "14"}


def test_with_no_room_for_peep_oxygen_goes_up_to_its_end():
    assert settings({"spo2": "86"}, on(fio2=85, peep=13)) == {"fio2_set": "90"}
    assert settings({"spo2": "86"}, on(fio2=90, peep=14)) == {}


@pytest.mark.parametrize(
    ("plateau", "after"),
    [("30", {}), ("31", {"tidal_volume_set": "380"})],
    ids=["at", "over"],
)
def test_the_volume_comes_down_over_a_plateau_of_30(plateau, after):
    assert settings({"plateau_pressure_obs": plateau}, on()) == after


def test_the_volume_stops_at_its_floor():
    assert settings({"plateau_pressure_obs": "35"}, on(volume=330)) == {"tidal_volume_set": "320"}
    assert settings({"plateau_pressure_obs": "35"}, on(volume=320)) == {}


@pytest.mark.parametrize(
    ("end_tidal", "after"),
    [
        ("50", {}),
        ("51", {"resp_rate_set": "22"}),
        ("30", {}),
        ("29", {"resp_rate_set": "18"}),
    ],
)
def test_the_rate_follows_the_end_tidal_co2(end_tidal, after):
    assert settings({"etco2_mmhg": end_tidal}, on()) == after


def test_where_no_room_is_given_the_rate_stays():
    assert settings({"etco2_mmhg": "70"}, on(), Room()) == {}
