"""Oxygenation indices, alveolar gas, ventilatory ratio."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.physiology.asking import asked, shown, unavailable, value

GAS = {"pao2": 80, "fio2": 40, "sample": "arterial"}
OF_A_GAS = {
    "pf_ratio": GAS,
    "pf_altitude_corrected": {**GAS, "pb": 630},
    "oxygenation_index": {**GAS, "pmean": 15},
    "ventilatory_ratio": {"ve": 8, "paco2": 40, "pbw": 70, "sample": "arterial"},
    "aa_gradient": {**GAS, "paco2": 40},
    "aa_gradient_simplified": {**GAS, "paco2": 40},
    "dead_space_enghoff": {"paco2": 40, "peco2_mixed": 27, "sample": "arterial"},
    "dead_space_volume": {"paco2": 40, "peco2_mixed": 27, "vt": 500, "sample": "arterial"},
}
WITH_OXYGEN = {
    "sf_ratio": {"spo2": 92, "fio2": 40},
    "oxygen_saturation_index": {"spo2": 92, "fio2": 40, "pmean": 12},
}


@pytest.mark.parametrize("key", OF_A_GAS)
def test_an_arterial_gas_gives_its_index(key):
    assert value(key, **OF_A_GAS[key]).number > 0


@pytest.mark.parametrize("sample", ["venous", "capillary", "mixed venous"])
@pytest.mark.parametrize("key", OF_A_GAS)
def test_no_other_specimen_will_do(key, sample):
    assert not unavailable(key, **{**OF_A_GAS[key], "sample": sample}).applicable


@pytest.mark.parametrize("sample", ["unknown", None])
@pytest.mark.parametrize("key", OF_A_GAS)
def test_a_specimen_asked_for_and_not_known_gives_no_index(key, sample):
    assert unavailable(key, **{**OF_A_GAS[key], "sample": sample}).missing == ("sample",)


def test_a_pf_ratio_needs_its_specimen_even_where_nobody_mentions_it():
    assert unavailable("pf_ratio", pao2=80, fio2=40).missing == ("sample",)


@pytest.mark.parametrize("key", OF_A_GAS | WITH_OXYGEN)
def test_extracorporeal_support_switches_the_index_off(key):
    inputs = {**OF_A_GAS, **WITH_OXYGEN}[key]
    assert not unavailable(key, **inputs, ecmo="VV").applicable


@pytest.mark.parametrize("ecmo", ["none", None, "no"])
def test_no_extracorporeal_support_changes_nothing(ecmo):
    assert shown("pf_ratio", **GAS, ecmo=ecmo) == "200"


@pytest.mark.parametrize(("fio2", "there"), [(20.9, False), (21, True), (100, True), (101, False)])
def test_oxygen_outside_21_to_100_per_cent_is_asked_about(fio2, there):
    inputs = {**GAS, "fio2": fio2}
    if there:
        assert value("pf_ratio", **inputs).number > 0
    else:
        assert "fraction" in asked("pf_ratio", **inputs)


@pytest.mark.parametrize(("pao2", "there"), [(19.9, False), (20, True)])
def test_a_pao2_under_twenty_is_asked_about(pao2, there):
    inputs = {**GAS, "pao2": pao2}
    if there:
        assert shown("pf_ratio", **inputs) == "50"
    else:
        assert "kilopascals" in asked("pf_ratio", **inputs)


# full form, FiO2 60 %, PaCO2 40, Pb 760: 383.8; so 403.8 is the last that passes
@pytest.mark.parametrize(("pao2", "there"), [(403, True), (403.8, True), (403.9, False)])
@pytest.mark.parametrize("key", ["pf_ratio", "oxygenation_index"])
def test_a_pao2_above_what_the_oxygen_allows_is_asked_about(key, pao2, there):
    inputs = {"pao2": pao2, "fio2": 60, "paco2": 40, "sample": "arterial", "pmean": 12}
    if there:
        assert value(key, **inputs).number > 0
    else:
        assert "about 384" in asked(key, **inputs)


# nothing known of PaCO2: inspired PO2 427.8
@pytest.mark.parametrize(("pao2", "there"), [(447, True), (448, False)])
def test_without_a_paco2_only_the_inspired_pressure_is_a_ceiling(pao2, there):
    inputs = {"pao2": pao2, "fio2": 60, "sample": "arterial"}
    if there:
        assert value("pf_ratio", **inputs).number > 0
    else:
        assert asked("pf_ratio", **inputs)


def test_altitude_lowers_the_ceiling():
    assert asked("pf_ratio", pao2=130, fio2=21, pb=630, sample="arterial", paco2=35)


@pytest.mark.parametrize(("spo2", "there"), [(96, True), (97, True), (97.5, False), (98, False)])
@pytest.mark.parametrize("key", WITH_OXYGEN)
def test_a_saturation_over_97_reads_nothing(key, spo2, there):
    inputs = {**WITH_OXYGEN[key], "spo2": spo2}
    if there:
        assert value(key, **inputs).number > 0
    else:
        assert "97 %" in unavailable(key, **inputs).reason


@pytest.mark.parametrize("key", WITH_OXYGEN)
def test_a_saturation_that_is_missing_zero_or_a_fraction_gives_nothing(key):
    assert unavailable(key, **{**WITH_OXYGEN[key], "spo2": None}).missing == ("spo2",)
    assert "zero" in unavailable(key, **{**WITH_OXYGEN[key], "spo2": 0}).reason
    assert "fraction" in asked(key, **{**WITH_OXYGEN[key], "spo2": 0.92})


@pytest.mark.parametrize(
    ("pmean", "asks"), [(9.9, True), (10, False), (15, False), (28, False), (28.5, True)]
)
@pytest.mark.parametrize("key", ["oxygenation_index", "oxygen_saturation_index"])
def test_a_mean_pressure_outside_peep_to_peak_is_asked_about(key, pmean, asks):
    inputs = {**GAS, "spo2": 92, "pmean": pmean, "peep": 10, "ppeak": 28}
    if asks:
        assert "mean pressure" in asked(key, **inputs)
    else:
        assert value(key, **inputs).number > 0


@pytest.mark.parametrize("family", ["hfnc", "o2_mask"])
def test_where_no_airway_pressure_is_measured_there_is_no_oxygenation_index(family):
    assert not unavailable("oxygenation_index", **GAS, pmean=10, family=family).applicable


def test_a_mean_pressure_of_zero_gives_no_index():
    assert "zero" in unavailable("oxygenation_index", **GAS, pmean=0).reason


VR = {"ve": 7, "paco2": 37.5, "pbw": 70}


@pytest.mark.parametrize(("age", "there"), [(17, False), (18, True)])
def test_the_ventilatory_ratio_is_an_adult_index(age, there):
    told = value if there else unavailable
    assert told("ventilatory_ratio", **VR, age_y=age)


@pytest.mark.parametrize("family", ["csv_ps", "cpap", "niv", "hfnc", "standby", "other"])
def test_without_machine_breaths_there_is_no_ventilatory_ratio(family):
    assert not unavailable("ventilatory_ratio", **VR, family=family).applicable


def test_effort_leaves_no_ventilatory_ratio_and_unanswered_does():
    assert unavailable("ventilatory_ratio", **VR, passive=False)
    assert shown("ventilatory_ratio", **VR, passive=None) == "1.00"


def test_a_minute_volume_can_be_made_of_volume_and_rate():
    told = value("ventilatory_ratio", vt=350, rr=20, paco2=37.5, pbw=70, family="ac_vc")
    assert (told.shown, told.basis) == ("1.00", "minute volume from volume × rate")


@pytest.mark.parametrize("inputs", [{}, {"vt": 350, "rr": 20, "family": "simv_vc"}])
def test_no_minute_volume_is_guessed_where_breaths_are_mixed_or_unknown(inputs):
    assert unavailable("ventilatory_ratio", paco2=40, pbw=70, **inputs).missing == ("ve",)


def test_a_minute_volume_that_the_breaths_deny_is_asked_about():
    assert asked("ventilatory_ratio", **{**VR, "ve": 14}, vt=350, rr=20)


def test_kilopascals_in_the_mercury_field_are_asked_about():
    assert "kilopascals" in asked("ventilatory_ratio", **{**VR, "paco2": 5.3})


def test_the_full_form_is_named_beside_the_number():
    assert value("alveolar_po2", fio2=60, paco2=40).basis == "full form"


def test_the_gradient_comes_from_the_full_form():
    assert shown("aa_gradient", fio2=60, paco2=40, pao2=90) == "294"
    assert shown("aa_gradient_simplified", fio2=60, paco2=40, pao2=90) == "288"


def test_the_standard_pressure_is_used_only_where_none_is_mentioned():
    assert shown("alveolar_po2", fio2=21, paco2=40) == shown(
        "alveolar_po2", fio2=21, paco2=40, pb=760
    )
    assert unavailable("alveolar_po2", fio2=21, paco2=40, pb=None).missing == ("pb",)


def test_an_alveolar_pressure_below_nothing_is_asked_about():
    assert asked("alveolar_po2", fio2=21, paco2=200)


@pytest.mark.parametrize("key", ["aa_gradient", "aa_gradient_simplified"])
def test_a_negative_gradient_is_asked_about(key):
    assert "gradient" in asked(key, fio2=60, paco2=45, pao2=480)


def test_a_gradient_of_nothing_is_a_value():
    assert shown("aa_gradient", fio2=60, paco2=40, pao2=383.8) == "0"


def test_an_exchange_ratio_of_zero_gives_no_value():
    assert "zero" in unavailable("alveolar_po2", fio2=60, paco2=40, R=0).reason


@given(st.integers(21, 100), st.integers(12, 120), st.integers(500, 800))
def test_the_simplified_form_is_never_above_the_full_one(fio2, paco2, pb):
    inputs = {"fio2": fio2, "paco2": paco2, "pb": pb}
    inspired = fio2 / 100 * (pb - 47)
    if inspired > paco2 * 1.25 + 1:
        simple = value("alveolar_po2_simplified", **inputs).number
        full = value("alveolar_po2", **inputs).number
        assert 0 < full - simple <= Decimal(paco2) / 4


def test_above_a_thousand_metres_the_ratio_is_corrected():
    assert shown("pf_altitude_corrected", pao2=75, fio2=30, pb=630) == "207"
    assert unavailable("pf_altitude_corrected", pao2=75, fio2=30).missing == ("pb",)
