"""From rows to answers: the scenarios, what rules an index out, and where its inputs came from."""

from datetime import date

import pytest
from msgspec.structs import replace

from app.charting.derive import CHARTED, ON_THE_BOARD, work_out_course
from app.charting.facts import BodySize, Kind
from app.charting.mode_families import MODE_FAMILIES
from app.charting.site_figures import SiteFigures, SiteInTime
from app.charting.terms import Told, WorkedOut
from app.physiology.answer import NotAvailable, Value
from app.physiology.catalogue import CATALOGUE
from tests.charting.rows import airway, body, course, later, row
from tests.charting.worked import HOLD, absent, answers, drawn, of, value

# Scenarios.


def test_a_volume_of_8_01_per_kg_shows_8_0_and_a_volume_of_8_06_shows_8_1() -> None:
    small = body("160", "F")
    worked = answers(course(row(tidal_volume_obs=420), size=small))
    assert value(worked["pbw"]).shown == "52.4"
    assert value(worked["vt_per_pbw"]).shown == "8.0"
    assert value(worked["vt_per_pbw"]).number > 8
    larger = answers(course(row(tidal_volume_obs=423), size=small))
    assert value(larger["vt_per_pbw"]).shown == "8.1"


def test_plain_mechanics_of_a_passive_hold() -> None:
    worked = answers(course(row(**HOLD)))
    assert value(worked["driving_pressure"]).shown == "14"
    assert value(worked["compliance_static"]).shown == "30"
    assert "total PEEP" in value(worked["driving_pressure"]).basis


def test_auto_peep_counts() -> None:
    held = row(
        tidal_volume_obs=400,
        plateau_pressure_obs=28,
        peep_set=8,
        peep_total=12,
        hold_passive="yes",
    )
    worked = answers(course(held))
    assert value(worked["auto_peep"]).shown == "4"
    assert value(worked["driving_pressure"]).shown == "16"
    assert value(worked["compliance_static"]).shown == "25"


def test_a_plateau_not_done_says_why_and_gives_no_number() -> None:
    skipped = row(not_done={"plateau_pressure_obs": "effort"}, tidal_volume_obs=400, peep_set=8)
    for key in ("driving_pressure", "compliance_static"):
        missing = absent(of(skipped, key))
        assert missing.reason == "plateau not done: effort"
        assert missing.applicable


def test_pressure_support_gives_no_mechanics_and_a_labelled_rsbi() -> None:
    supported = row(
        "csv_ps",
        pressure_support_set=10,
        peep_set=8,
        resp_rate_obs=28,
        tidal_volume_obs=350,
        plateau_pressure_obs=18,
        hold_passive="yes",
    )
    worked = answers(course(supported))
    assert value(worked["rsbi"]).shown == "80"
    assert "support 10" in value(worked["rsbi"]).basis
    for key in ("driving_pressure", "compliance_static", "auto_peep", "airway_resistance"):
        assert not absent(worked[key]).applicable


def test_a_corrected_height_counts_for_earlier_rows_too() -> None:
    facts = replace(
        course(row(tidal_volume_obs=420), row(at=later(hours=4), tidal_volume_obs=420)),
        body_sizes=(body("170", "F"), body("158", "F", later(hours=8))),
    )
    shown = [value(worked["vt_per_pbw"]).shown for _, worked in work_out_course(facts)]
    assert shown == ["8.3", "8.3"]


# Passive, and which PEEP.


def test_a_hold_is_passive_only_if_somebody_says_so() -> None:
    unanswered = {code: number for code, number in HOLD.items() if code != "hold_passive"}
    for family in ("ac_vc", "ac_pc", "ac_vtpc", "simv_vc", "simv_pc", "simv_vtpc"):
        assert absent(of(row(family, **unanswered), "driving_pressure")).missing == ("passive",)
        assert value(of(row(family, **HOLD), "driving_pressure")).shown == "14"
    effort = absent(of(row(**{**HOLD, "hold_passive": "no"}), "driving_pressure"))
    assert "spontaneous effort" in effort.reason


def test_no_index_of_a_hold_assumes_that_the_breath_was_passive() -> None:
    held = {code: number for code, number in HOLD.items() if code != "hold_passive"}
    more = {"peak_inspiratory_pressure_obs": 36, "flow_rate_set": 60, "resp_rate_obs": 20}
    worked = answers(course(row(**held, **more, flow_pattern="constant")))
    for key in ("auto_peep", "airway_resistance", "compliance_static", "mechanical_power"):
        assert absent(worked[key]).missing == ("passive",)
    assert value(worked["compliance_dynamic"])


@pytest.mark.parametrize("family", sorted(set(MODE_FAMILIES) - {"other"}))
def test_mechanics_are_worked_out_only_where_a_hold_means_something(family: str) -> None:
    given = isinstance(of(row(family, **HOLD), "driving_pressure").answer, Value)
    assert given is MODE_FAMILIES[family].mechanics_by_hold


def test_set_peep_stands_in_for_total_peep_and_the_basis_says_so() -> None:
    held = {code: number for code, number in HOLD.items() if code != "peep_total"}
    answer = value(of(row(**held), "driving_pressure"))
    assert answer.shown == "16"
    assert "set PEEP" in answer.basis


def test_a_hold_is_never_joined_across_two_rows() -> None:
    facts = course(
        row(plateau_pressure_obs=26, hold_passive="yes", peep_set=10),
        row(kind=Kind.BRIEF, at=later(minutes=5), tidal_volume_obs=420, peep_total=12),
    )
    first, second = (worked for _, worked in work_out_course(facts))
    assert absent(first["compliance_static"]).missing
    assert absent(second["driving_pressure"]).missing == ("pplat",)


def test_a_mask_leaves_a_hold_without_a_meaning_whatever_the_mode_says() -> None:
    worked = answers(course(row(**HOLD), tube=airway("mask")))
    assert not absent(worked["driving_pressure"]).applicable


def test_a_mode_that_nobody_charted_allows_no_mechanics() -> None:
    missing = absent(of(row("", **HOLD), "driving_pressure"))
    assert missing.missing == ("family",)
    assert missing.applicable


# Volumes.


def test_the_measured_volume_comes_before_the_set_one_and_the_basis_says_which() -> None:
    both = value(of(row(tidal_volume_obs=420, tidal_volume_set=400), "vt_per_pbw"))
    assert "measured" in both.basis
    only_set = value(of(row(tidal_volume_set=400), "vt_per_pbw"))
    assert "set volume" in only_set.basis
    assert absent(of(row(spo2=94), "vt_per_pbw")).missing


@pytest.mark.parametrize(
    ("family", "remark"),
    [("niv", "mask leak: volume uncertain"), ("aprv", "release volume"), ("ac_vc", "")],
)
def test_a_volume_that_is_not_a_plain_breath_says_what_it_is(family: str, remark: str) -> None:
    basis = value(of(row(family, tidal_volume_obs=400), "vt_per_pbw")).basis
    assert basis == "; ".join(filter(None, ("measured expired volume", remark)))


def test_a_brief_row_does_not_repeat_a_set_volume_that_nobody_looked_at() -> None:
    facts = course(row(tidal_volume_set=400), row(kind=Kind.BRIEF, at=later(hours=1), spo2=94))
    assert absent(answers(facts)["vt_per_pbw"]).missing
    looked = course(row(kind=Kind.BRIEF, tidal_volume_set=400))
    assert value(answers(looked)["vt_per_pbw"])


def test_the_charted_minute_volume_stands_apart_from_volume_times_rate() -> None:
    breathing = row(tidal_volume_obs=400, resp_rate_obs=20, minute_vent_obs=12)
    assert value(of(breathing, "minute_ventilation")).shown == "8.0"
    assert value(of(breathing, "vt_per_pbw")).shown == "6.1"


def test_mixed_breaths_need_both_streams() -> None:
    one = row("simv_vc", tidal_volume_obs=450, resp_rate_obs=22)
    assert isinstance(of(one, "minute_ventilation").answer, NotAvailable)
    both = row(
        "simv_vc",
        tidal_volume_obs=450,
        resp_rate_obs=22,
        tidal_volume_spont_obs=300,
        resp_rate_spont_obs=12,
    )
    assert value(of(both, "minute_ventilation")).shown == "8.1"
    assert isinstance(of(both, "minute_ventilation").inputs["rr_mand"], Told)


def test_a_large_leak_gives_no_compliance() -> None:
    assert value(of(row(**HOLD, leak_percent=15), "compliance_static"))
    assert "leak" in absent(of(row(**HOLD, leak_percent=16), "compliance_static")).reason


# Times and resistance.


def test_times_come_from_the_set_time_and_the_total_rate_with_the_pause() -> None:
    breath = row("ac_pc", inspiratory_time_set="1.0", resp_rate_obs=24, resp_rate_set=12)
    assert value(of(breath, "ie_ratio")).shown == "1:1.5"
    assert value(of(breath, "expiratory_time")).shown == "1.50"


def test_times_come_from_volume_and_constant_flow_where_no_time_is_set() -> None:
    settings = {"tidal_volume_set": 500, "flow_rate_set": 60, "inspiratory_pause_set": "0.25"}
    constant = row(**settings, flow_pattern="constant", resp_rate_obs=20, tidal_volume_obs=300)
    assert value(of(constant, "expiratory_time")).shown == "2.25"
    unsaid = row(**settings, resp_rate_obs=20)
    assert isinstance(of(unsaid, "expiratory_time").answer, NotAvailable)


def test_times_need_the_total_rate() -> None:
    breath = row("ac_pc", inspiratory_time_set="1.0", resp_rate_set=12)
    assert absent(of(breath, "ie_ratio")).missing == ("rr",)


def test_resistance_needs_a_constant_flow_that_was_set() -> None:
    held = {**HOLD, "peak_inspiratory_pressure_obs": 36, "flow_rate_set": 60}
    worked = answers(course(row(**held, flow_pattern="constant")))
    assert value(worked["airway_resistance"]).shown == "10"
    assert value(worked["time_constant"]).shown == "0.30"
    assert isinstance(worked["time_constant"].inputs["resistance"], WorkedOut)
    decelerating = answers(course(row(**held, flow_pattern="decelerating")))
    assert not absent(decelerating["airway_resistance"]).applicable
    assert not absent(decelerating["time_constant"]).applicable
    assert absent(of(row(**held), "airway_resistance")).missing == ("flow_pattern",)


# Saturation, high flow, power.


@pytest.mark.parametrize(("spo2", "given"), [(96, True), (97, True), (98, False)])
def test_a_saturation_over_97_gives_no_ratio(spo2: int, given: bool) -> None:
    assert isinstance(of(row(spo2=spo2, fio2_set=40), "sf_ratio").answer, Value) is given


def test_rox_belongs_to_high_flow() -> None:
    flow = row("hfnc", spo2=92, fio2_set=65, resp_rate_obs=29, lpm_set=50)
    assert value(of(flow, "rox")).shown == "4.88"
    assert not absent(of(row(spo2=92, fio2_set=65, resp_rate_obs=29), "rox")).applicable
    worked = answers(course(flow, tube=airway("nasal_cannula")))
    for key in ("vt_per_pbw", "minute_ventilation", "mechanical_power", "driving_pressure"):
        assert not absent(worked[key]).applicable


def test_mechanical_power_names_its_form() -> None:
    volume = row(**HOLD, peak_inspiratory_pressure_obs=32, resp_rate_obs=24)
    assert "volume-control form" in value(of(volume, "mechanical_power")).basis
    pressure = row(
        "ac_pc",
        tidal_volume_obs=450,
        resp_rate_obs=18,
        pressure_control_set=14,
        peep_set=8,
        hold_passive="yes",
    )
    assert value(of(pressure, "mechanical_power")).shown == "17.5"
    assert "pressure-control" in value(of(pressure, "mechanical_power")).basis


# Children.


@pytest.mark.parametrize(("age", "given"), [(17, False), (18, True), (None, True)])
def test_under_the_units_adult_age_adult_indices_are_off(age: int | None, given: bool) -> None:
    worked = answers(course(row(tidal_volume_obs=400, spo2=94), age_y=age))
    for key in ("pbw", "vt_per_pbw"):
        assert isinstance(worked[key].answer, Value) is given
        if not given:
            assert "18 years" in absent(worked[key]).reason
            assert not absent(worked[key]).applicable


def adult_from(age: int) -> SiteInTime:
    return SiteInTime(SiteFigures(adult_age_y=age))


def test_a_units_own_adult_age_counts() -> None:
    facts = course(row(tidal_volume_obs=400), age_y=17)
    assert isinstance(work_out_course(facts, adult_from(16))[0][1]["pbw"].answer, Value)
    older = course(row(tidal_volume_obs=400), age_y=18)
    assert isinstance(work_out_course(older, adult_from(19))[0][1]["pbw"].answer, NotAvailable)


def test_a_childs_oxygenation_index_stands_and_its_band_does_not() -> None:
    check = row("ac_pc", mean_airway_pressure_obs=15, fio2_set=60, peep_set=8)
    child = course(check, drawn(pao2=60), age_y=None, born=date(2016, 12, 1))
    worked = answers(child)
    assert value(worked["oxygenation_index"]).shown == "15.0"
    assert "18 years" in absent(worked["berlin_class"]).reason


# All of them.


def test_every_row_answers_every_charted_index_and_rows_that_do_not_count_are_left_out() -> None:
    struck = replace(row(at=later(hours=1)), struck="wrong patient")
    draft = replace(row(at=later(hours=2)), signed=False)
    worked = work_out_course(course(row(), struck, draft, drawn()))
    assert [tuple(found) for _, found in worked] == [CHARTED, CHARTED]
    assert set(ON_THE_BOARD) <= set(CHARTED) <= set(CATALOGUE)


def test_a_course_without_rows_has_no_answers() -> None:
    assert work_out_course(course()) == ()


def test_without_a_height_there_is_no_weight() -> None:
    nobody: BodySize = body(None)
    worked = answers(course(row(tidal_volume_obs=400), size=nobody))
    assert absent(worked["pbw"]).missing == ("height",)
    assert isinstance(worked["vt_per_pbw"].answer, NotAvailable)
    sexless = answers(course(row(tidal_volume_obs=400), size=body("170", "unknown")))
    assert absent(sexless["pbw"]).missing == ("sex",)


def test_every_input_of_a_number_has_its_origin() -> None:
    held = {**HOLD, "peak_inspiratory_pressure_obs": 36, "flow_rate_set": 60, "resp_rate_obs": 20}
    facts = course(
        row(**held, flow_pattern="constant", fio2_set=40, spo2=94, minute_vent_obs=8), drawn()
    )
    for _, found in work_out_course(facts):
        for worked in found.values():
            if isinstance(worked.answer, Value):
                assert set(worked.inputs) == set(worked.answer.used)


def test_a_number_is_what_the_catalogue_gives_for_the_same_inputs() -> None:
    facts = course(row(**HOLD, fio2_set=40, spo2=94, resp_rate_obs=20), drawn())
    for _, found in work_out_course(facts):
        for key, worked in found.items():
            if isinstance(worked.answer, Value):
                again = CATALOGUE[key].work_out(worked.answer.used)
                assert isinstance(again, Value)
                assert (again.number, again.shown) == (worked.answer.number, worked.answer.shown)
