"""Mechanical power: three forms, each with its own conditions."""

import pytest

from app.physiology.breathing import FAMILIES
from tests.physiology.asking import asked, shown, unavailable, value

BREATH = {"rr": 20, "vt": 500, "ppeak": 30, "pplat": 25, "peep": 10, "flow": 60}
PRESSURE = {"rr": 22, "vt": 400, "peep": 10}
FORMS = {
    "mechanical_power_vc": BREATH,
    "mechanical_power_vc_surrogate": {**BREATH, "ve": 10},
    "mechanical_power_pc_surrogate": {**PRESSURE, "dp_insp_above_peep": 16},
}


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize(
    "family", sorted(code for code, family in FAMILIES.items() if not family.controlled)
)
def test_power_is_for_controlled_breathing_alone(form, family):
    assert not unavailable(form, **FORMS[form], family=family).applicable


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("passive", [False, None])
def test_effort_or_no_answer_about_it_leaves_no_power(form, passive):
    assert unavailable(form, **FORMS[form], passive=passive)


@pytest.mark.parametrize("form", FORMS)
def test_a_form_says_its_name(form):
    assert (
        "form" in value(form, **FORMS[form]).basis
        or "surrogate" in value(form, **FORMS[form]).basis
    )


@pytest.mark.parametrize("form", ["mechanical_power_vc", "mechanical_power_vc_surrogate"])
def test_a_volume_control_form_wants_volume_control_and_constant_flow(form):
    assert unavailable(form, **FORMS[form], family="ac_pc")
    assert unavailable(form, **FORMS[form], flow_pattern="decelerating")


def test_the_pressure_form_wants_pressure_control():
    assert unavailable("mechanical_power_pc_surrogate", **PRESSURE, family="ac_vc")


def test_the_forms_disagree_on_the_same_breath_so_none_stands_in_for_another():
    assert shown("mechanical_power_vc", **BREATH) == "22.1"
    assert (
        shown("mechanical_power_vc_surrogate", **FORMS["mechanical_power_vc_surrogate"]) == "25.0"
    )


def test_an_absolute_pressure_has_its_peep_taken_off():
    told = {"pinsp": 26, "basis": "absolute"}
    assert shown("mechanical_power_pc_surrogate", **PRESSURE, **told) == "22.4"


def test_a_pressure_above_peep_is_used_as_it_is():
    told = {"pinsp": 16, "basis": "above_peep"}
    assert shown("mechanical_power_pc_surrogate", **PRESSURE, **told) == "22.4"


@pytest.mark.parametrize("form", ["mechanical_power", "mechanical_power_pc_surrogate"])
@pytest.mark.parametrize(
    "pressure", [{"dp_insp_above_peep": 15}, {"pinsp": 20, "basis": "absolute"}]
)
def test_a_pressure_above_set_peep_stays_above_set_peep_beside_trapped_air(form, pressure):
    # 0.098 × 20 × 0.4 × (15 + 5): the sum is the pressure that the machine reaches (Becher 2019)
    breath = {"rr": 20, "vt": 400, "peep_set": 5, "peep_total": 9, "family": "ac_pc"}
    told = value(form, **breath, **pressure, passive=True)
    assert (told.shown, told.basis) == ("15.7", "pressure-control surrogate")


@pytest.mark.parametrize("basis", [None, "", "from zero"])
def test_a_pressure_without_its_basis_is_asked_about(basis):
    reason = asked("mechanical_power_pc_surrogate", **PRESSURE, pinsp=16, basis=basis)
    assert "above PEEP or absolute" in reason


@pytest.mark.parametrize("pinsp", [9, 10])
def test_an_absolute_pressure_at_or_below_peep_is_asked_about(pinsp):
    assert asked("mechanical_power_pc_surrogate", **PRESSURE, pinsp=pinsp, basis="absolute")


@pytest.mark.parametrize(
    ("form", "zero"),
    [
        ("mechanical_power_vc", "rr"),
        ("mechanical_power_vc", "vt"),
        ("mechanical_power_vc_surrogate", "flow"),
        ("mechanical_power_pc_surrogate", "rr"),
        ("mechanical_power_pc_surrogate", "dp_insp_above_peep"),
    ],
)
def test_a_zero_gives_no_power(form, zero):
    inputs = {name: raw for name, raw in FORMS[form].items() if name != "ve"}
    assert "zero" in unavailable(form, **{**inputs, zero: 0}).reason


def test_a_minute_volume_of_zero_beside_breaths_is_asked_about():
    assert asked("mechanical_power_vc_surrogate", **{**BREATH, "ve": 0})
    inputs = {"ppeak": 30, "peep": 10, "flow": 60}
    assert unavailable("mechanical_power_vc_surrogate", **inputs, ve=0)


@pytest.mark.parametrize("inputs", [{"pplat": 31}, {"pplat": 10}, {"ve": 14}, {"peep_total": 8}])
def test_contradictions_are_asked_about(inputs):
    assert asked("mechanical_power_vc", **{**BREATH, "peep_set": 10, **inputs})


@pytest.mark.parametrize(("pressure", "asks"), [(15, False), (30, False), (31, True)])
def test_a_driving_pressure_above_the_peak_is_asked_about(pressure, asks):
    inputs = {**BREATH, "pplat": None, "driving_pressure": pressure}
    if asks:
        assert "above peak" in asked("mechanical_power_vc", **inputs)
    else:
        assert value("mechanical_power_vc", **inputs).number > 0


@pytest.mark.parametrize("inputs", [{"pplat": 31}, {"vt": 700}])
def test_the_surrogate_asks_about_contradictions_too(inputs):
    assert asked("mechanical_power_vc_surrogate", **{**BREATH, "ve": 10, **inputs})


@pytest.mark.parametrize(
    "inputs",
    [{"ve": 14}, {"pplat": 31}, {"pplat": 10}, {"ppeak": 10, "pplat": None}, {"peep_total": 8}],
)
def test_whatever_the_form_contradictions_are_asked_about(inputs):
    told = {**BREATH, "family": "ac_vc", "passive": True, **inputs}
    assert asked("mechanical_power", **told)


def test_a_peak_at_peep_is_asked_about():
    assert asked("mechanical_power_vc_surrogate", ve=10, ppeak=10, peep=10, flow=60)


@pytest.mark.parametrize("name", ["rr", "vt", "ppeak", "pplat", "peep"])
def test_a_missing_input_is_named(name):
    missing = unavailable("mechanical_power_vc", **{**BREATH, name: None}).missing
    assert name in missing


@pytest.mark.parametrize(
    ("inputs", "text", "form"),
    [
        ({**BREATH, "family": "ac_vc"}, "22.1", "volume-control form"),
        ({**BREATH, "pplat": None, "family": "ac_vc"}, "25.0", "volume-control surrogate"),
        (
            {**PRESSURE, "dp_insp_above_peep": 16, "family": "ac_pc"},
            "22.4",
            "pressure-control surrogate",
        ),
        (
            {**PRESSURE, "dp_insp_above_peep": 16, "family": "ac_vtpc"},
            "22.4",
            "pressure-control surrogate",
        ),
    ],
)
def test_the_mode_and_the_readings_choose_the_form(inputs, text, form):
    told = value("mechanical_power", **inputs, passive=True)
    assert told.shown == text
    assert told.basis.startswith(form)


def test_without_a_mode_no_form_is_chosen():
    assert unavailable("mechanical_power", **BREATH).missing == ("family",)


def test_neither_plateau_nor_flow_leaves_no_form():
    inputs = {**BREATH, "pplat": None, "flow": None, "family": "ac_vc"}
    assert unavailable("mechanical_power", **inputs).missing == ("pplat", "flow")
