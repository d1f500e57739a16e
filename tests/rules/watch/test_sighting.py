"""What a row says to the rules agrees with the indices, and compares like with like."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.charting.derive import work_out_course
from app.physiology.answer import Value
from app.rules.watch import sightings
from app.rules.watch.reads import READS, READS_OF_A_GAS
from tests.charting.rows import course, later, row
from tests.rules.watch.scenes import POLICY, check


def of(*rows):
    return list(sightings(course(*rows), POLICY))


PRESSURES = st.integers(5, 60).map(str)


@settings(max_examples=80, deadline=None)
@given(
    plateau=PRESSURES,
    peak=PRESSURES,
    peep=st.integers(0, 20).map(str),
    total=st.one_of(st.none(), st.integers(0, 25).map(str)),
    flow=st.sampled_from(["40", "60", None]),
    passive=st.sampled_from(["yes", "no", None]),
    family=st.sampled_from(["ac_vc", "ac_pc", "simv_vc", "csv_ps", "aprv"]),
)
def test_series_are_the_indices_own_numbers(plateau, peak, peep, total, flow, passive, family):
    checked = check(
        0,
        plateau_pressure_obs=plateau,
        peak_inspiratory_pressure_obs=peak,
        peep_set=peep,
        peep_total=total,
        flow_rate_set=flow,
        hold_passive=passive,
        mode_family=family,
    )
    seen, (_, answers) = of(checked)[0], work_out_course(course(checked))[0]
    for key in ("driving_pressure", "auto_peep"):
        answer = answers[key].answer
        expected = float(answer.shown) if isinstance(answer, Value) else None
        assert seen.values.get(key) == expected
    if "resistance" in seen.values:
        answer = answers["airway_resistance"].answer
        assert isinstance(answer, Value)
        assert seen.values["resistance"] == pytest.approx(float(answer.number))
    if "compliance" in seen.values:
        assert isinstance(answers["driving_pressure"].answer, Value)


def test_drift_uses_set_peep_and_set_volume_where_the_limit_uses_total():
    seen = of(check(0, peep_total="12", tidal_volume_obs="380"))[0]
    assert seen.values["driving_pressure"] == 10
    assert seen.values["compliance"] == pytest.approx(400 / 12)


def test_in_pressure_control_the_measured_volume_is_all_there_is():
    seen = of(check(0, mode_family="ac_pc", tidal_volume_obs="380"))[0]
    assert seen.values["compliance"] == pytest.approx(380 / 12)
    assert "compliance_dynamic" not in seen.values


@pytest.mark.parametrize(("leak", "counts"), [("15", True), ("16", False), (None, True)])
def test_a_large_leak_takes_a_measured_volume_away(leak, counts):
    seen = of(check(0, mode_family="ac_pc", tidal_volume_obs="380", leak_percent=leak))[0]
    assert ("compliance" in seen.values) is counts


@pytest.mark.parametrize(("spo2", "told"), [("97", True), ("98", False)])
def test_a_flat_curve_says_nothing_of_oxygenation(spo2, told):
    assert ("sf" in of(check(0, spo2=spo2))[0].values) is told


def test_standby_reads_nothing_off():
    assert of(check(0, mode_family="standby"))[0].values.keys() <= {"cuff"}


def test_a_falling_flow_gives_no_airway_pressure():
    seen = of(check(0, flow_pattern="decelerating"))[0]
    assert not seen.values.keys() & {"resistance", "peak_less_plateau"}


def test_a_flow_that_nobody_named_gives_peak_less_plateau():
    seen = of(check(0, flow_pattern=None))[0]
    assert seen.values["peak_less_plateau"] == 10


def test_rox_has_a_cut_off_from_its_second_hour_on():
    values = {"fio2_set": "80", "lpm_set": "50", "resp_rate_obs": "34", "spo2": "90"}
    rows = [row("hfnc", at=later(hours=h), **values) for h in (0, 1.9, 2, 12)]
    assert ["rox_under" in seen.values for seen in of(*rows)] == [False, False, True, True]
    assert of(*rows)[2].values["rox_under"] == 0
    assert of(*rows)[3].values["rox_under"] == 1


def test_what_the_rules_read_is_all_that_they_need():
    typed = check(0, rass="-2", cuff_pressure_cmh2o="25", heart_rate="80", map="70")
    lean = {c: r for c, r in typed.readings.items() if c in (*READS, *READS_OF_A_GAS)}
    from msgspec.structs import replace

    assert of(replace(typed, readings=lean)) == of(typed)
    assert len(lean) < len(typed.readings)
