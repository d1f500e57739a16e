"""Each limit gets one answer from the newest attempt: within, once, outside, not done, too old."""

from datetime import timedelta
from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.facts import CourseFacts, Kind, Targets
from app.rules.bed_summary import work_out
from app.rules.policy import starting_policy
from app.rules.standing import Statement, Verdict, statements
from tests.charting.rows import AT, body, course, gas, later, row

POLICY = starting_policy()
PASSIVE = {"hold_passive": "yes", "peep_set": "8", "tidal_volume_obs": "400"}


def of(facts: CourseFacts, key: str) -> Statement:
    told = statements(facts, work_out(facts, POLICY), POLICY)
    return next(statement for statement in told if statement.key == key)


def hold(plateau: str, hours: float, **more: str):
    values = {"plateau_pressure_obs": plateau, **PASSIVE, **more}
    return row(at=later(hours=hours), **values)


@pytest.mark.parametrize(
    ("plateaus", "verdict"),
    [
        (("22",), Verdict.WITHIN),
        (("23",), Verdict.WITHIN),
        (("24",), Verdict.OUTSIDE_ONCE),
        (("24", "24"), Verdict.OUTSIDE),
        (("24", "23"), Verdict.WITHIN),
        (("24", "22", "25"), Verdict.OUTSIDE_ONCE),
    ],
)
def test_driving_pressure_over_fifteen_from_set_peep_eight(plateaus, verdict) -> None:
    rows = [hold(plateau, 4 * at) for at, plateau in enumerate(plateaus)]
    assert of(course(*rows), "driving_pressure").verdict is verdict


def test_a_statement_says_value_side_limit_and_source() -> None:
    told = of(course(hold("26", 0)), "driving_pressure")
    assert (told.shown, told.side, told.limit) == ("18", "over", Decimal(15))
    assert "Amato" in told.source


def test_a_value_turns_too_old_at_its_hour_and_keeps_what_it_was() -> None:
    told = of(course(hold("26", 0)), "driving_pressure")
    assert told.as_of(AT + timedelta(hours=6) - timedelta(seconds=1)).verdict is told.verdict
    old = told.as_of(AT + timedelta(hours=6))
    assert (old.verdict, old.last_shown, old.last_at) == (Verdict.TOO_OLD, "18", AT)


def test_a_hold_that_failed_takes_the_bed_out_of_judgement_at_once() -> None:
    failed = row(at=later(hours=4), not_done={"plateau_pressure_obs": "effort"}, **PASSIVE)
    told = of(course(hold("20", 0), failed), "driving_pressure")
    assert (told.verdict, told.reason) == (Verdict.NOT_DONE, "plateau not done: effort")
    assert (told.last_shown, told.last_at) == ("12", AT)


@pytest.mark.parametrize("not_done", [{}, {"plateau_pressure_obs": "not_due"}])
def test_a_round_in_which_nobody_looked_leaves_the_last_value_standing(not_done) -> None:
    values = {"peep_set": "8", "tidal_volume_obs": "400"}
    silent = row(at=later(hours=4), not_done=not_done, **values)
    told = of(course(hold("20", 0), silent), "driving_pressure")
    assert (told.verdict, told.at) == (Verdict.WITHIN, AT)


def test_a_brief_check_without_a_plateau_is_no_failed_hold() -> None:
    brief = row(kind=Kind.BRIEF, at=later(hours=1), spo2="94")
    assert of(course(hold("20", 0), brief), "driving_pressure").verdict is Verdict.WITHIN


def test_a_plateau_never_done_is_not_done() -> None:
    facts = course(row(peep_set="8", tidal_volume_obs="400"))
    assert of(facts, "driving_pressure").verdict is Verdict.NOT_DONE


def test_an_unanswered_passive_is_not_done_and_never_within() -> None:
    values = {"plateau_pressure_obs": "20", "peep_set": "8", "tidal_volume_obs": "400"}
    assert of(course(row(**values)), "driving_pressure").verdict is Verdict.NOT_DONE


@pytest.mark.parametrize("key", ["driving_pressure", "plateau_pressure_obs"])
@pytest.mark.parametrize("plateau", ["22", "33"])
@pytest.mark.parametrize(
    ("passive", "reason"), [("no", "spontaneous effort"), (None, "not answered")]
)
def test_a_plateau_with_effort_or_no_word_on_it_is_neither_within_nor_outside(
    key, plateau, passive, reason
) -> None:
    held = {**PASSIVE, "plateau_pressure_obs": plateau, "hold_passive": passive}
    told = of(course(row(**{code: said for code, said in held.items() if said})), key)
    assert (told.verdict, reason in told.reason) == (Verdict.NOT_DONE, True)


@pytest.mark.parametrize("plateau", ["18", "33"])
def test_a_plateau_of_pressure_support_is_kept_and_not_judged(plateau: str) -> None:
    held = row("csv_ps", **{**PASSIVE, "plateau_pressure_obs": plateau})
    told = of(course(held), "plateau_pressure_obs")
    assert (told.verdict, told.shown) == (Verdict.NOT_APPLICABLE, "")


def test_a_plateau_without_a_peep_beside_it_is_judged_all_the_same() -> None:
    held = row(plateau_pressure_obs="33", hold_passive="yes", tidal_volume_obs="400")
    assert of(course(held), "plateau_pressure_obs").verdict is Verdict.OUTSIDE_ONCE


def test_a_venous_ph_is_not_held_against_the_limit() -> None:
    venous = gas(later(hours=1), gas_specimen="venous", ph="7.15")
    assert of(course(row(**PASSIVE), venous), "ph").verdict is Verdict.NOT_APPLICABLE
    drawn = gas(gas_specimen="arterial", ph="7.30")
    told = of(course(row(**PASSIVE), drawn, venous), "ph")
    assert (told.verdict, told.shown) == (Verdict.WITHIN, "7.30")


def test_pressure_support_has_no_driving_pressure_to_judge() -> None:
    facts = course(row("csv_ps", plateau_pressure_obs="18", peep_set="8", spo2="95"))
    assert of(facts, "driving_pressure").verdict is Verdict.NOT_APPLICABLE


def test_a_volume_over_the_limit_on_own_breaths_is_information() -> None:
    # PBW of a man of 170 cm is 66.0 kg: 600 mL is 9.1 mL/kg.
    facts = course(row("csv_ps", tidal_volume_obs="600", peep_set="8", pressure_support_set="8"))
    assert of(facts, "vt_per_pbw").verdict is Verdict.NOTED


def test_without_a_band_the_saturation_cannot_be_judged() -> None:
    told = of(course(row(spo2="80")), "spo2")
    assert (told.verdict, told.reason) == (
        Verdict.NOT_DONE,
        "no band ordered for this patient",
    )


@pytest.mark.parametrize(
    ("spo2", "verdict"),
    [("87", Verdict.OUTSIDE_ONCE), ("88", Verdict.WITHIN), ("99", Verdict.WITHIN)],
)
def test_the_saturation_is_judged_by_the_patients_own_band(spo2: str, verdict: Verdict) -> None:
    band = Targets(spo2_low=Decimal(88), spo2_high=Decimal(95), ordered_by="Dr Oak")
    assert of(replace(course(row(spo2=spo2)), targets=band), "spo2").verdict is verdict


def test_a_course_without_a_row_can_be_judged_in_nothing_essential() -> None:
    facts = course()
    told = statements(facts, work_out(facts, POLICY), POLICY)
    assert {s.verdict for s in told if s.essential} == {Verdict.NOT_DONE}


def test_eight_point_zero_one_is_not_over_eight_and_eight_point_zero_six_is() -> None:
    # Decision 3: 52.416 kg for a woman of 160 cm; 420 mL is 8.013, shown 8.0; 423 mL is 8.07.
    within = course(row(tidal_volume_obs="420"), size=body("160", "F"))
    over = course(row(tidal_volume_obs="423"), size=body("160", "F"))
    verdicts = [of(facts, "vt_per_pbw").verdict for facts in (within, over)]
    assert verdicts == [Verdict.WITHIN, Verdict.OUTSIDE_ONCE]
