"""What must hold of every course: order of saving, row by row, the wall clock, and silence."""

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from app.charting.facts import Assessment
from app.rules.watch import Fold, Policies, Unjudged, sightings, watch
from tests.charting.rows import course, gas, later, row
from tests.rules.watch.scenes import MEASURED, POLICY, SETTINGS, check, rules, watched, with_band

PLATEAUS = st.sampled_from([None, "20", "22", "25", "26", "27", "31", "38"])
CHECKS = st.fixed_dictionaries(
    {},
    optional={
        "plateau_pressure_obs": PLATEAUS,
        "peak_inspiratory_pressure_obs": st.sampled_from([None, "30", "34", "40", "48"]),
        "hold_passive": st.sampled_from([None, "yes", "no"]),
        "tidal_volume_set": st.sampled_from(["400", "540", "600"]),
        "tidal_volume_obs": st.sampled_from([None, "300", "400", "560"]),
        "spo2": st.sampled_from([None, "82", "86", "90", "99"]),
        "fio2_set": st.sampled_from(["40", "60", "65", "80"]),
        "peep_set": st.sampled_from(["5", "10", "14"]),
        "resp_rate_obs": st.sampled_from([None, "7", "20", "27", "36"]),
        "cuff_pressure_cmh2o": st.sampled_from([None, "18", "25", "33"]),
        "mode_family": st.sampled_from(["ac_vc", "ac_pc", "csv_ps", "standby"]),
    },
)
ROWS = st.lists(st.tuples(st.integers(0, 6), CHECKS), min_size=1, max_size=14)


def told(drawn: list[tuple[int, dict[str, str | None]]]) -> list[Assessment]:
    """Checks some hours apart; no hours is a second row of the same moment."""
    rows, hours = [], 0.0
    for gap, values in drawn:
        hours += gap
        rows.append(check(hours, **values))
    return [replace(found, id=f"r{n}") for n, found in enumerate(rows)]


@settings(max_examples=60, deadline=None)
@given(ROWS, st.randoms())
def test_the_order_of_saving_does_not_matter(drawn, chance):
    rows = told(drawn)
    facts = with_band(course(*rows))
    mixed = list(rows)
    chance.shuffle(mixed)
    saved = [
        replace(found, id=f"s{n}", recorded_at=found.recorded_at + timedelta(minutes=n))
        for n, found in enumerate(mixed)
    ]
    now = rows[-1].observed_at + timedelta(hours=1)
    assert watch(with_band(course(*saved)), POLICY, now) == watch(facts, POLICY, now)


@settings(max_examples=60, deadline=None)
@given(ROWS)
def test_folding_row_by_row_is_folding_the_whole(drawn):
    facts = with_band(course(*told(drawn)))
    fold = Fold(Policies(POLICY))
    for seen in sightings(facts, POLICY):
        fold.see(seen)
        fold.at(seen.at)
    now = facts.assessments[-1].observed_at + timedelta(hours=3)
    assert fold.at(now) == watch(facts, POLICY, now)


@settings(max_examples=40, deadline=None)
@given(ROWS)
def test_what_was_said_at_a_moment_is_what_is_said_of_it_later(drawn):
    """Rows after `now` say nothing: the flags of then are found again from the longer course."""
    rows = told(drawn)
    now = rows[len(rows) // 2].observed_at
    known_then = [found for found in rows if found.observed_at <= now]
    then = watch(with_band(course(*known_then)), POLICY, now)
    assert watch(with_band(course(*rows)), POLICY, now) == then


@settings(max_examples=40, deadline=None)
@given(ROWS, st.floats(0, 7))
def test_time_alone_changes_no_flag_but_an_overdue_plateau(drawn, hours):
    facts = with_band(course(*told(drawn)))
    last = facts.assessments[-1].observed_at
    early, late = (watch(facts, POLICY, last + timedelta(hours=h)) for h in (0, hours))
    by_value = [[f for f in seen.flags if f.rule != "plateau_overdue"] for seen in (early, late)]
    assert by_value[0] == by_value[1]


WAYS_TO_MISS = {
    "not charted": {"plateau_pressure_obs": None, "hold_passive": None},
    "effort": {"hold_passive": "no"},
    "passive not answered": {"hold_passive": None},
    "plateau over peak": {"plateau_pressure_obs": "40"},
    "plateau under PEEP": {"plateau_pressure_obs": "8"},
    "support": {"mode_family": "csv_ps"},
    "two levels": {"mode_family": "aprv"},
    "mode not known": {"mode_family": ""},
}


@pytest.mark.parametrize("way", WAYS_TO_MISS)
def test_a_driving_pressure_that_cannot_be_judged_is_never_silent(way):
    seen = watched(check(0, **WAYS_TO_MISS[way]))
    told_of = [found for found in seen.not_evaluable if found.rule == "driving_pressure_over"]
    assert len(told_of) == 1
    assert told_of[0].reason


def test_a_hold_that_was_not_done_says_why():
    values = {**SETTINGS, **MEASURED}
    del values["plateau_pressure_obs"], values["hold_passive"]
    seen = watched(row(at=later(), not_done={"plateau_pressure_obs": "effort"}, **values))
    found = next(told for told in seen.not_evaluable if told.rule == "driving_pressure_over")
    assert found.kind is Unjudged.NOT_DONE
    assert "effort" in found.reason


@pytest.mark.parametrize(("hours", "kind"), [(5.9, None), (6, Unjudged.TOO_OLD)])
def test_a_value_turns_too_old_with_its_own_limit(hours, kind):
    seen = watched(check(0), now=later(hours=hours))
    kinds = {told.rule: told.kind for told in seen.not_evaluable}
    assert kinds.get("driving_pressure_over") is kind


def test_a_mode_without_holds_is_not_applicable():
    seen = watched(check(0, mode_family="csv_ps"))
    kinds = {told.rule: told.kind for told in seen.not_evaluable}
    assert kinds["driving_pressure_over"] is Unjudged.NOT_APPLICABLE


@pytest.mark.parametrize("sex", ["unknown"])
def test_without_a_predicted_weight_no_volume_is_judged(sex):
    from tests.charting.rows import body

    facts = with_band(course(check(0), size=body(None, sex)))
    seen = watch(facts, POLICY, later())
    assert {"vt_set_outside", "vt_measured_outside"} <= {t.rule for t in seen.not_evaluable}


def test_every_rule_of_a_limit_speaks_or_judges_in_an_empty_course():
    seen = watch(with_band(course()), POLICY, later())
    essential = {"driving_pressure_over", "plateau_over", "vt_set_outside", "spo2_under"}
    not_done = {t.rule for t in seen.not_evaluable if t.kind is Unjudged.NOT_DONE}
    assert essential <= not_done


def test_a_childs_rows_raise_nothing():
    rows = [check(0, plateau_pressure_obs="40"), check(4, plateau_pressure_obs="40")]
    assert watch(with_band(course(*rows, age_y=9)), POLICY, later(hours=4)).flags == ()


def test_a_struck_row_refolds_as_if_it_had_never_been():
    rows = [check(0, plateau_pressure_obs="26"), check(4, plateau_pressure_obs="26")]
    struck = replace(rows[0], struck="belongs to another patient")
    assert "driving_pressure_over" in rules(watched(*rows))
    assert "driving_pressure_over" not in rules(watched(struck, rows[1]))


def test_a_gas_between_two_checks_does_not_part_them():
    rows = [
        check(0, plateau_pressure_obs="26"),
        gas(later(hours=2), ph="7.30", pao2="80"),
        check(4, plateau_pressure_obs="26"),
    ]
    assert "driving_pressure_over" in rules(watched(*rows))
