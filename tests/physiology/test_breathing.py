"""Mode families and the words that stand for them."""

from decimal import Decimal

import pytest

from app.physiology.breathing import FAMILIES, UNKNOWN, read_mode


@pytest.mark.parametrize(
    ("word", "code"),
    [
        ("A/C-VC", "ac_vc"),
        ("A/C-PC", "ac_pc"),
        ("A/C-VTPC", "ac_vtpc"),
        ("PC", "ac_pc"),
        ("SIMV", "simv_vc"),
        ("SIMV-VC + PS", "simv_vc"),
        ("PS", "csv_ps"),
        ("CPAP", "cpap"),
        ("spontaneous", "spontaneous"),
        ("APRV/bilevel", "aprv"),
        ("APRV", "aprv"),
        ("bilevel", "bilevel"),
        ("NIV mask", "niv"),
        ("NIV", "niv"),
        ("HFNC", "hfnc"),
        (" csv_vtps ", "csv_vtps"),
    ],
)
def test_a_mode_word_stands_for_its_family(word, code):
    assert read_mode(word).family is FAMILIES[code]


@pytest.mark.parametrize("word", ["", "banana", "A/C", "PSX", "pressure"])
def test_a_word_that_nobody_knows_allows_no_mechanics(word):
    family = read_mode(word).family
    assert family is UNKNOWN
    assert not family.hold_means_something


def test_triggering_is_read_off_the_word():
    for word in ("A/C-VC, triggering", "A/C-VC triggering"):
        assert read_mode(word).triggering
        assert read_mode(word).family is FAMILIES["ac_vc"]
    assert not read_mode("A/C-VC").triggering


@pytest.mark.parametrize(
    ("word", "level"), [("PS 10", "10"), ("PS 10/8", "10"), ("csv_ps 7.5", "7.5")]
)
def test_the_support_level_is_read_off_the_word(word, level):
    assert read_mode(word).support == Decimal(level)


def test_a_pressure_behind_cpap_is_no_support():
    assert read_mode("CPAP 5").support is None


def test_only_machine_sized_breaths_through_a_tube_can_be_held():
    held = {code for code, family in FAMILIES.items() if family.hold_means_something}
    assert held == {"ac_vc", "ac_pc", "ac_vtpc", "simv_vc", "simv_pc", "simv_vtpc"}


def test_only_the_first_three_are_controlled():
    assert {c for c, f in FAMILIES.items() if f.controlled} == {"ac_vc", "ac_pc", "ac_vtpc"}


def test_one_volume_times_the_rate_is_wrong_where_breaths_are_mixed():
    mixed = {code for code, family in FAMILIES.items() if not family.one_stream}
    assert mixed == {"simv_vc", "simv_pc", "simv_vtpc", "bilevel", "aprv"}


def test_every_charted_code_is_there_once():
    charted = (
        "ac_vc ac_pc ac_vtpc simv_vc simv_pc simv_vtpc csv_ps csv_vtps csv_prop cpap bilevel aprv "
        "niv hfnc o2_mask unassisted hfov manual standby other"
    )
    assert set(charted.split()) == set(FAMILIES) - {"spontaneous"}
