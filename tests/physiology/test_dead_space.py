"""Dead space by Enghoff."""

import pytest

from tests.physiology.asking import asked, shown, unavailable


@pytest.mark.parametrize("mixed", [40, 45])
@pytest.mark.parametrize("key", ["dead_space_enghoff", "dead_space_volume"])
def test_mixed_expired_at_or_above_arterial_is_asked_about(key, mixed):
    assert "not below" in asked(key, paco2=40, peco2_mixed=mixed, vt=500)


def test_just_below_arterial_is_a_small_dead_space():
    assert shown("dead_space_enghoff", paco2=40, peco2_mixed=39.6) == "0.01"


def test_an_end_tidal_value_is_not_mixed_expired():
    assert not unavailable("dead_space_enghoff", paco2=50, petco2=35).applicable


def test_an_end_tidal_value_beside_the_mixed_one_does_no_harm():
    assert shown("dead_space_enghoff", paco2=50, petco2=45, peco2_mixed=30) == "0.40"


def test_kilopascals_beside_millimetres_are_asked_about():
    assert "kilopascals" in asked("dead_space_enghoff", paco2=40, peco2_mixed=3.6)


@pytest.mark.parametrize("name", ["paco2", "peco2_mixed", "vt"])
def test_a_missing_input_is_named(name):
    inputs = {"paco2": 40, "peco2_mixed": 27, "vt": 500, name: None}
    assert name in unavailable("dead_space_volume", **inputs).missing
