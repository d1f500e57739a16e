"""Pressures against each other: under, at and over each bound, and silent where one is missing."""

import pytest

from app.charting.cross_checks import Weight
from app.physiology.answer import Query
from tests.charting.cross_checks.held import around, codes, found, in_force
from tests.charting.rows import row
from tests.charting.worked import of


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


@pytest.mark.parametrize(
    ("plateau", "family", "noted"),
    [
        ("26", "ac_vc", False),
        ("26.1", "ac_vc", True),
        ("27", "simv_vc", True),
        ("27.1", "ac_vc", False),
        ("26.1", "ac_pc", False),
    ],
)
def test_a_plateau_up_to_one_above_the_peak_is_kept_and_what_it_costs_is_said(
    plateau: str, family: str, noted: bool
) -> None:
    held = {"plateau_pressure_obs": plateau, "peak_inspiratory_pressure_obs": 26, "peep_set": 10}
    hold = row(family, hold_passive="yes", **held)
    findings = found(hold)
    assert ("plateau_just_above_peak" in findings) is noted
    if noted:
        assert findings["plateau_just_above_peak"].weight is Weight.NOTE
        assert "no driving pressure" in findings["plateau_just_above_peak"].sentence
        assert isinstance(of(hold, "driving_pressure").answer, Query)


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
    hold = row(peep_total=total, hold_passive="yes")
    said = codes(hold, around(settings=in_force(peep_set=10)))
    assert said == ({code} if code else set())
    assert codes(row(peep_total=total, hold_passive="yes")) == set()


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
    assert "passive_unanswered" in codes(row(peep_total=9))
    assert "passive_unanswered" not in codes(row(plateau_pressure_obs=24, hold_passive="no"))
    assert "passive_unanswered" not in codes(row("csv_ps", plateau_pressure_obs=24))
    assert "passive_unanswered" not in codes(row(tidal_volume_obs=400))


@pytest.mark.parametrize(("rate", "said"), [(20, False), (21, False), (22, True)])
def test_the_question_says_where_the_patient_triggers_and_suggests_nothing(
    rate: int, said: bool
) -> None:
    hold = row(plateau_pressure_obs=24, resp_rate_obs=rate, resp_rate_set=20)
    asked = found(hold)["passive_unanswered"]
    assert (f"Rate total {rate} /min is above Rate set 20 /min" in asked.sentence) is said
    assert asked.fields[0] == "hold_passive"


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
