"""Each check under, at and over its bound, and silent where an input is missing."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.charting.cross_checks import CHECKS, Context, Finding, Weight, check
from app.charting.facts import Airway, Assessment, Event, Kind, Reading
from app.charting.field import Shape
from app.charting.fields import FIELDS
from app.charting.mode_families import MODE_FAMILIES
from tests.charting.rows import AT, START, airway, gas, later, reading, row


def around(**changes: object) -> Context:
    given_values: dict[str, object] = {"now": later(minutes=1), **changes}
    return Context(**given_values)  # type: ignore[arg-type]


def in_force(**values: object) -> dict[str, Reading]:
    return {code: reading(code, str(value), later(hours=-1)) for code, value in values.items()}


def found(assessment: Assessment, context: Context | None = None) -> dict[str, Finding]:
    return {finding.code: finding for finding in check(assessment, context or around())}


def codes(assessment: Assessment, context: Context | None = None) -> set[str]:
    return set(found(assessment, context))


def test_a_row_in_order_says_nothing() -> None:
    quiet = row(
        fio2_set=40,
        peep_set=8,
        tidal_volume_set=420,
        resp_rate_set=20,
        inspiratory_time_set="0.9",
        tidal_volume_obs=415,
        resp_rate_obs=20,
        minute_vent_obs="8.4",
        peak_inspiratory_pressure_obs=30,
        mean_airway_pressure_obs=14,
        plateau_pressure_obs=24,
        hold_passive="yes",
        peep_total=9,
        alarm_pressure_high=40,
        alarm_minute_vent_low=5,
    )
    assert check(quiet, around()) == ()


# Pressures.


@pytest.mark.parametrize(
    ("family", "under", "at", "over"),
    [("ac_vc", "26.9", "27", "27.1"), ("ac_pc", "25.9", "26", "26.1")],
)
def test_a_plateau_above_the_peak_is_asked(family: str, under: str, at: str, over: str) -> None:
    def asked(plateau: str) -> bool:
        hold = row(
            family,
            plateau_pressure_obs=plateau,
            peak_inspiratory_pressure_obs=26,
            hold_passive="no",
        )
        return "plateau_above_peak" in codes(hold)

    assert [asked(value) for value in (under, at, over)] == [False, False, True]
    assert "plateau_above_peak" not in codes(row(family, plateau_pressure_obs="40"))


@pytest.mark.parametrize(("plateau", "said"), [("13", False), ("12", True), ("11", True)])
def test_a_plateau_not_above_total_peep_blocks_a_driving_pressure(plateau: str, said: bool) -> None:
    hold = row(plateau_pressure_obs=plateau, peep_total=12, peep_set=10, hold_passive="yes")
    findings = found(hold)
    assert ("plateau_not_above_peep" in findings) is said
    if said:
        assert findings["plateau_not_above_peep"].weight is Weight.BLOCK


def test_without_a_driving_pressure_a_low_plateau_is_only_asked() -> None:
    effort = row(plateau_pressure_obs=8, peep_set=10, hold_passive="no")
    assert found(effort)["plateau_not_above_peep"].weight is Weight.QUESTION
    assert "plateau_not_above_peep" not in codes(row(plateau_pressure_obs=8))


@pytest.mark.parametrize(
    ("total", "code"),
    [
        ("10", None),
        ("9.9", "total_peep_just_below_set"),
        ("9", "total_peep_just_below_set"),
        ("8.9", "total_peep_below_set"),
    ],
)
def test_total_peep_up_to_one_below_set_is_noted_and_more_is_asked(
    total: str, code: str | None
) -> None:
    said = codes(row(peep_total=total), around(settings=in_force(peep_set=10)))
    assert said == ({code} if code else set())
    assert codes(row(peep_total=total)) == set()


@pytest.mark.parametrize(
    ("family", "mean", "said"),
    [
        ("ac_vc", "10.1", False),
        ("ac_vc", "10", True),
        ("ac_vc", "9", True),
        ("ac_vc", "29.9", False),
        ("ac_vc", "30", True),
        ("cpap", "10", False),
        ("cpap", "9.9", True),
    ],
)
def test_a_mean_pressure_lies_between_peep_and_peak(family: str, mean: str, said: bool) -> None:
    breath = row(
        family, peep_set=10, peak_inspiratory_pressure_obs=30, mean_airway_pressure_obs=mean
    )
    assert ("mean_pressure_outside" in codes(breath)) is said
    assert "mean_pressure_outside" not in codes(row(family, mean_airway_pressure_obs=mean))


def test_a_peak_at_peep_is_asked_in_control_and_fine_on_cpap() -> None:
    assert "peak_below_peep" in codes(row(peep_set=10, peak_inspiratory_pressure_obs=10))
    assert "peak_below_peep" not in codes(
        row("cpap", peep_set=10, peak_inspiratory_pressure_obs=10)
    )
    assert "peak_below_peep" in codes(row("cpap", peep_set=10, peak_inspiratory_pressure_obs=9))


def test_a_plateau_on_pressure_support_is_asked_with_what_becomes_of_it() -> None:
    finding = found(row("csv_ps", plateau_pressure_obs=18))["hold_in_assisted_breathing"]
    assert finding.weight is Weight.QUESTION
    assert "assisted breathing may mislead" in finding.sentence
    assert "hold_in_assisted_breathing" not in codes(row("ac_vc", plateau_pressure_obs=18))


def test_passive_is_asked_and_never_assumed() -> None:
    assert "passive_unanswered" in codes(row(plateau_pressure_obs=24))
    assert "passive_unanswered" not in codes(row(plateau_pressure_obs=24, hold_passive="no"))
    assert "passive_unanswered" not in codes(row("csv_ps", plateau_pressure_obs=24))
    assert "passive_unanswered" not in codes(row(tidal_volume_obs=400))


@pytest.mark.parametrize(("rate", "said"), [(20, False), (21, False), (22, True)])
def test_a_passive_hold_in_a_triggering_patient_is_noted(rate: int, said: bool) -> None:
    hold = row(hold_passive="yes", resp_rate_obs=rate, resp_rate_set=20)
    assert ("passive_while_triggering" in codes(hold)) is said


def test_crossed_levels_are_asked_once_where_one_of_them_was_charted() -> None:
    assert "levels_crossed" in codes(row("aprv", pressure_high_set=10, pressure_low_set=10))
    assert "levels_crossed" not in codes(row("aprv", pressure_high_set=11, pressure_low_set=10))
    assert "levels_crossed" in codes(row("niv", ipap_set=6), around(settings=in_force(peep_set=8)))
    old = around(settings=in_force(ipap_set=6, peep_set=8))
    assert "levels_crossed" not in codes(row("niv", resp_rate_obs=20), old)


@pytest.mark.parametrize(("mean", "said"), [(59, True), (60, False), (120, False), (121, True)])
def test_mean_blood_pressure_lies_between_the_other_two(mean: int, said: bool) -> None:
    assert ("mean_blood_pressure_outside" in codes(row(sbp=120, dbp=60, map=mean))) is said


# Volumes and rates.


def minute(family: str, value: str) -> set[str]:
    wanted = {"minute_volume_off", "minute_volume_factor"}
    return wanted & codes(
        row(family, tidal_volume_obs=400, resp_rate_obs=20, minute_vent_obs=value)
    )


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ("8", set()),
        ("10", set()),
        ("10.1", {"minute_volume_off"}),
        ("15.9", {"minute_volume_off"}),
        ("16", {"minute_volume_factor"}),
        ("6", set()),
        ("5.9", {"minute_volume_off"}),
        ("4", {"minute_volume_factor"}),
    ],
)
def test_a_minute_volume_off_by_a_quarter_is_noted_and_by_a_factor_of_two_asked(
    value: str, said: set[str]
) -> None:
    assert minute("ac_vc", value) == said


@pytest.mark.parametrize("family", ["simv_vc", "aprv", "niv"])
def test_mixed_breaths_and_masks_have_a_wider_margin(family: str) -> None:
    assert minute(family, "11.2") == set()
    assert minute(family, "11.3") == {"minute_volume_off"}


def test_both_streams_are_counted_where_both_were_read() -> None:
    mixed = row(
        "simv_vc",
        tidal_volume_obs=450,
        resp_rate_obs=22,
        tidal_volume_spont_obs=100,
        resp_rate_spont_obs=12,
        minute_vent_obs="5.7",
    )
    assert "minute_volume_off" not in codes(mixed)
    assert "minute_volume_factor" not in codes(mixed)


def test_no_volume_beside_a_minute_volume_is_asked() -> None:
    assert "no_volume_beside_minute_volume" in codes(row(tidal_volume_obs=0, minute_vent_obs=7))
    assert codes(row(tidal_volume_obs=0, minute_vent_obs=0)) == set()


@pytest.mark.parametrize(
    ("measured", "said"),
    [
        ("480", set()),
        ("481", {"volume_off_set"}),
        ("800", {"volume_off_set"}),
        ("801", {"volume_factor"}),
        ("200", {"volume_off_set"}),
        ("199", {"volume_factor"}),
    ],
)
def test_a_volume_off_the_set_one_is_noted_and_outside_half_to_twice_asked(
    measured: str, said: set[str]
) -> None:
    settings = around(settings=in_force(tidal_volume_set=400))
    assert codes(row(tidal_volume_obs=measured), settings) == said
    assert codes(row(tidal_volume_obs=measured)) == set()


def test_where_a_volume_is_only_targeted_the_factor_alone_is_asked() -> None:
    settings = around(settings=in_force(tidal_volume_set=400))
    assert codes(row("ac_vtpc", tidal_volume_obs=500), settings) == set()
    assert codes(row("ac_vtpc", tidal_volume_obs=900), settings) == {"volume_factor"}


@pytest.mark.parametrize(("total", "said"), [(20, False), (19, False), (18, True)])
def test_a_total_rate_more_than_one_below_the_set_rate_is_asked(total: int, said: bool) -> None:
    settings = around(settings=in_force(resp_rate_set=20))
    assert ("rate_below_set" in codes(row(resp_rate_obs=total), settings)) is said
    assert "rate_below_set" not in codes(row("simv_vc", resp_rate_obs=total), settings)
    assert "rate_below_set" not in codes(row(resp_rate_obs=total))


def test_more_spontaneous_breaths_than_breaths_is_asked() -> None:
    code = "spontaneous_rate_above_total"
    assert code in codes(row("simv_vc", resp_rate_obs=20, resp_rate_spont_obs=21))
    assert code not in codes(row("simv_vc", resp_rate_obs=20, resp_rate_spont_obs=20))


@pytest.mark.parametrize(
    ("time", "code"),
    [
        ("1.5", None),
        ("1.51", "inverse_ratio"),
        ("2.99", "inverse_ratio"),
        ("3", "inspiration_fills_cycle"),
    ],
)
def test_an_inspiration_as_long_as_the_cycle_is_asked_and_an_inverse_ratio_announced(
    time: str, code: str | None
) -> None:
    breath = row("ac_pc", inspiratory_time_set=time, resp_rate_obs=20)
    assert codes(breath) == ({code} if code else set())


def test_an_inspiration_from_constant_flow_counts_its_pause() -> None:
    settings = in_force(
        tidal_volume_set=500, flow_rate_set=30, flow_pattern="constant", inspiratory_pause_set="0.6"
    )
    assert "inverse_ratio" in codes(row(resp_rate_obs=20), around(settings=settings))
    del settings["flow_pattern"]
    assert "inverse_ratio" not in codes(row(resp_rate_obs=20), around(settings=settings))


def test_times_are_not_judged_where_breaths_are_the_patients_own() -> None:
    assert codes(row("csv_ps", inspiratory_time_set=3, resp_rate_obs=20)) == set()


# Tube and gear.


def tube_moved(depth: str, **changes: object) -> set[str]:
    context: dict[str, object] = {"airway": airway(depth="22"), **changes}
    return codes(row(airway_depth_cm=depth), around(**context))


@pytest.mark.parametrize(
    ("depth", "said"), [("22.5", False), ("23", True), ("21", True), ("21.5", False)]
)
def test_a_depth_that_moved_by_a_centimetre_is_asked(depth: str, said: bool) -> None:
    assert ("depth_changed" in tube_moved(depth)) is said


def test_the_newest_depth_counts_whether_read_or_placed() -> None:
    read_later = in_force(airway_depth_cm="24", airway_depth_reference="lip")
    assert "depth_changed" not in tube_moved("24", previous=read_later)
    exchanged = airway(at=later(minutes=-5), depth="22")
    assert "depth_changed" in tube_moved("24", previous=read_later, airway=exchanged)
    assert "depth_changed" not in tube_moved("22", previous=read_later, airway=exchanged)


def test_a_depth_needs_a_reference_and_is_compared_only_at_the_same_one() -> None:
    assert codes(row(airway_depth_cm=22)) == {"depth_without_reference"}
    other = row(airway_depth_cm=24, airway_depth_reference="teeth")
    assert codes(other, around(airway=airway())) == {"depth_reference_changed"}


def test_another_tube_size_without_an_exchange_blocks() -> None:
    context = around(airway=airway())
    finding = found(row(airway_size_mm="8.0"), context)["tube_size_changed"]
    assert finding.weight is Weight.BLOCK
    assert codes(row(airway_size_mm="7.50"), context) == set()
    assert codes(row(airway_size_mm="8.0")) == set()


def test_a_cuff_pressure_needs_a_cuff_that_is_up() -> None:
    code = "cuff_pressure_without_cuff"
    assert code in codes(row(cuff_pressure_cmh2o=25, cuff_state="down"))
    assert code not in codes(row(cuff_pressure_cmh2o=25, cuff_state="up"))
    assert code not in codes(row(cuff_pressure_cmh2o=25))


def test_a_speaking_valve_on_an_inflated_cuff_blocks() -> None:
    finding = found(row("o2_mask", speaking_valve="yes", cuff_state="up"))
    assert finding["speaking_valve_on_a_cuff"].weight is Weight.BLOCK
    assert codes(row("o2_mask", speaking_valve="yes", cuff_state="down")) == set()


def test_two_humidifiers_block_and_one_does_not() -> None:
    finding = found(row(humidifier="hme_with_heated_found"))["two_humidifiers"]
    assert finding.weight is Weight.BLOCK
    assert codes(row(humidifier="hme")) == set()


@pytest.mark.parametrize(("volume", "said"), [(299, True), (300, False), (301, False)])
def test_an_hme_with_a_low_volume_is_hinted_at(volume: int, said: bool) -> None:
    small = row(humidifier="hme", tidal_volume_obs=volume)
    assert ("hme_with_low_volume" in codes(small, around(pbw_kg=Decimal(50)))) is said
    assert "hme_with_low_volume" not in codes(small)


def test_an_hme_with_a_mask_or_thick_secretions_is_hinted_at() -> None:
    assert "hme_with_mask" in codes(row("niv", humidifier="hme"))
    assert "hme_with_secretions" in codes(row(humidifier="hme", secretions_consistency="plug"))
    assert codes(row("niv", humidifier="heated", secretions_consistency="plug")) == set()


@pytest.mark.parametrize(
    ("limit", "code"),
    [
        (29, "pressure_alarm_under_peak"),
        (30, "pressure_alarm_under_peak"),
        (31, None),
        (50, None),
        (51, "pressure_alarm_wide"),
    ],
)
def test_a_pressure_alarm_is_held_against_the_peak(limit: int, code: str | None) -> None:
    said = codes(row(alarm_pressure_high=limit, peak_inspiratory_pressure_obs=30))
    assert said == ({code} if code else set())


@pytest.mark.parametrize(("limit", "said"), [("6.9", False), ("7", True), ("7.1", True)])
def test_a_low_minute_volume_alarm_lies_below_the_minute_volume(limit: str, said: bool) -> None:
    alarm = row(alarm_minute_vent_low=limit, minute_vent_obs=7)
    assert ("minute_volume_alarm_above" in codes(alarm)) is said


# Gases.


def test_a_gas_asks_for_its_specimen() -> None:
    assert "specimen_not_named" in codes(row("", Kind.GAS, pao2=90))
    assert "specimen_not_named" in codes(gas(gas_specimen="unknown", pao2=90))
    assert codes(gas(pao2=90)) == set()


@pytest.mark.parametrize(
    ("end_tidal", "code"),
    [
        (45, None),
        (46, "end_tidal_above_arterial"),
        (25, None),
        (24, "end_tidal_gap"),
    ],
)
def test_end_tidal_is_held_against_arterial(end_tidal: int, code: str | None) -> None:
    before = around(
        previous={"etco2_mmhg": reading("etco2_mmhg", str(end_tidal), later(minutes=-30))}
    )
    assert codes(gas(paco2=40), before) == ({code} if code else set())


def test_end_tidal_is_not_compared_across_time_or_with_a_venous_sample() -> None:
    stale = around(previous={"etco2_mmhg": reading("etco2_mmhg", "60", later(minutes=-31))})
    assert codes(gas(paco2=40), stale) == set()
    near = around(previous={"etco2_mmhg": reading("etco2_mmhg", "60", later(minutes=-5))})
    assert codes(gas(paco2=40, gas_specimen="venous"), near) == set()


def test_a_new_end_tidal_is_held_against_the_last_gas() -> None:
    drawn = gas(later(minutes=-10), paco2=40)
    assert codes(row(etco2_mmhg=60), around(gas=drawn)) == {"end_tidal_above_arterial"}
    assert codes(row(etco2_mmhg=40), around(gas=drawn)) == set()


@pytest.mark.parametrize(("spo2", "said"), [(92, False), (91, True), (100, False)])
def test_saturations_more_than_four_points_apart_are_asked(spo2: int, said: bool) -> None:
    near = around(previous={"spo2": reading("spo2", str(spo2), AT)})
    assert ("saturation_gap" in codes(gas(sao2=96), near)) is said


@pytest.mark.parametrize(("pao2", "said"), [("253.4", False), ("253.45", False), ("253.5", True)])
def test_oxygen_above_what_the_inspired_oxygen_allows_is_asked(pao2: str, said: bool) -> None:
    drawn = gas(pao2=pao2, paco2=45, fio2_at_sample=40)
    assert ("oxygen_above_ceiling" in codes(drawn)) is said
    assert "oxygen_above_ceiling" not in codes(gas(pao2=pao2, paco2=45))


def test_the_slips_oxygen_is_asked_about_where_another_was_in_force() -> None:
    settings = around(settings=in_force(fio2_set=40))
    assert codes(gas(fio2_at_sample=50, pao2=90), settings) == {"oxygen_at_sample_differs"}
    assert codes(gas(fio2_at_sample="40.0", pao2=90), settings) == set()
    assert codes(gas(fio2_at_sample=50, pao2=90)) == set()


@pytest.mark.parametrize(
    ("charted", "said"), [("26.9", False), ("27", True), ("20.9", False), ("20.8", True)]
)
def test_a_bicarbonate_more_than_three_off_is_asked(charted: str, said: bool) -> None:
    drawn = gas(ph="7.40", paco2=40, hco3=charted)
    assert ("bicarbonate_off" in codes(drawn)) is said
    assert "bicarbonate_off" not in codes(gas(paco2=40, hco3=charted))


# The row itself.


@pytest.mark.parametrize(("minutes", "said"), [(1, False), (-2, False), (-2.1, True)])
def test_a_time_still_to_come_blocks(minutes: float, said: bool) -> None:
    findings = found(row(spo2=94), around(now=later(minutes=minutes)))
    assert ("in_the_future" in findings) is said
    if said:
        assert findings["in_the_future"].weight is Weight.BLOCK


def test_a_time_before_support_started_is_asked() -> None:
    assert codes(row(spo2=94), around(support_started_at=later(minutes=1))) == {"before_support"}
    assert codes(row(spo2=94), around(support_started_at=AT)) == set()


def event(kind: str, ended: bool) -> Event:
    return Event("e1", kind, later(hours=-1), AT if ended else None, "", "ash")


def test_a_row_while_the_patient_is_away_is_asked() -> None:
    assert codes(row(spo2=94), around(events=(event("away", ended=False),))) == {"while_away"}
    assert codes(row(spo2=94), around(events=(event("away", ended=True),))) == set()
    assert codes(row("standby"), around(events=(event("standby", ended=False),))) == set()


def test_a_machine_known_elsewhere_blocks_where_it_is_charted() -> None:
    elsewhere = around(device_elsewhere="L9")
    assert found(row(device_id="V-12"), elsewhere)["device_elsewhere"].weight is Weight.BLOCK
    assert codes(row(spo2=94), elsewhere) == set()


def test_three_far_steps_at_once_ask_for_the_patient() -> None:
    before = around(
        previous=in_force(fio2_set=40, peep_set=8, resp_rate_set=14, tidal_volume_set=400)
    )
    assert "many_jumps" in codes(row(fio2_set=80, peep_set=16, resp_rate_set=30), before)
    assert "many_jumps" not in codes(row(fio2_set=80, peep_set=16, resp_rate_set=24), before)


def test_a_row_whose_measured_values_all_repeat_is_asked() -> None:
    values = {
        "spo2": 94,
        "heart_rate": 88,
        "resp_rate_obs": 20,
        "tidal_volume_obs": 405,
        "minute_vent_obs": "8.2",
    }
    before = around(previous=in_force(**values))
    assert codes(row(**values), before) == {"everything_repeats"}
    assert codes(row(**{**values, "spo2": 95}), before) == set()
    del values["spo2"]
    assert codes(row(**values), before) == set()


def test_a_sedation_score_under_a_block_is_noted() -> None:
    assert codes(row(rass=-5, nmb="yes")) == {"sedation_score_under_block"}
    assert codes(row(rass=-5, nmb="no")) == set()


# All of them.


def test_a_finding_key_names_the_values_it_is_about() -> None:
    first = found(row(sbp=60, dbp=60))["levels_crossed"]
    second = found(row(sbp=60, dbp=70))["levels_crossed"]
    assert first.key == "levels_crossed:60,60"
    assert first.key != second.key


def test_every_check_stands_in_the_list_once() -> None:
    assert len(CHECKS) == len(set(CHECKS))


NUMBER_CODES = sorted(code for code, f in FIELDS.items() if f.shape is Shape.NUMBER)
CHOICE_CODES = sorted(code for code, f in FIELDS.items() if f.shape is Shape.CHOICE)


@st.composite
def any_row(draw: st.DrawFn) -> Assessment:
    values: dict[str, object] = {}
    for code in draw(st.lists(st.sampled_from(NUMBER_CODES), max_size=25, unique=True)):
        hard = FIELDS[code].hard
        assert hard is not None
        values[code] = draw(st.decimals(hard.low, hard.high, places=1))
    for code in draw(st.lists(st.sampled_from(CHOICE_CODES), max_size=8, unique=True)):
        values[code] = draw(st.sampled_from([choice.code for choice in FIELDS[code].choices]))
    family = draw(st.sampled_from([*MODE_FAMILIES, ""]))
    return row(family, draw(st.sampled_from(list(Kind))), **values)


@given(any_row(), any_row())
def test_no_row_raises_and_every_finding_is_a_sentence_about_fields(
    now: Assessment, before: Assessment
) -> None:
    tube: Airway = airway()
    context = around(
        settings=before.readings,
        previous=before.readings,
        airway=tube,
        gas=before,
        support_started_at=START,
        pbw_kg=Decimal(60),
    )
    for finding in check(now, context):
        assert finding.sentence.endswith((".", "?"))
        assert set(finding.fields) <= set(FIELDS)
        assert finding.key.startswith(finding.code)
