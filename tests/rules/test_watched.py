"""A kept fold gives what a whole fold gives, whatever was written since; no absence is silent."""

from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from app.charting.answering import FlagAnswer, Said
from app.charting.facts import CourseFacts
from app.rules.bed_summary import summarise
from app.rules.flagged import RULES_OF
from app.rules.flags_now import groups_now
from app.rules.standing import NOT_EVALUABLE, Verdict
from app.rules.unit_clock import UnitClock
from app.rules.watch import Policies, watch
from app.rules.watch.rules import RULES
from app.rules.watched import KeptFolds, Watching
from tests.charting.rows import course, later, row
from tests.rules.watch.scenes import MEASURED, POLICY, SETTINGS, check, with_band

LARCH = UnitClock("America/New_York")
POLICIES = Policies(POLICY)
PLATEAUS = st.sampled_from(["20", "24", "26", "33", "40", None])


def append(facts: CourseFacts, plateau: str | None, _place: int) -> CourseFacts:
    rows = facts.assessments
    hours = (rows[-1].observed_at - later()) / timedelta(hours=1) + 4 if rows else 0
    new = check(hours, plateau_pressure_obs=plateau)
    return replace(facts, assessments=(*rows, replace(new, id=f"n{len(rows)}")))


def come_late(facts: CourseFacts, plateau: str | None, place: int) -> CourseFacts:
    new = check(4 * (place % 12) + 1.5, plateau_pressure_obs=plateau)
    rows = (*facts.assessments, replace(new, id=f"l{len(facts.assessments)}"))
    return replace(facts, assessments=tuple(sorted(rows, key=lambda r: r.observed_at)))


def correct(facts: CourseFacts, plateau: str | None, place: int) -> CourseFacts:
    if not facts.assessments:
        return facts
    rows = list(facts.assessments)
    place %= len(rows)
    old = rows[place]
    new = check((old.observed_at - later()) / timedelta(hours=1), plateau_pressure_obs=plateau)
    rows[place] = replace(new, id=old.id)
    return replace(facts, assessments=tuple(rows))


def strike(facts: CourseFacts, _plateau: str | None, place: int) -> CourseFacts:
    if not facts.assessments:
        return facts
    rows = list(facts.assessments)
    place %= len(rows)
    rows[place] = replace(rows[place], struck="wrong patient")
    return replace(facts, assessments=tuple(rows))


def acknowledge(facts: CourseFacts, _plateau: str | None, place: int) -> CourseFacts:
    at = facts.assessments[-1].observed_at if facts.assessments else later()
    rules = tuple(rule.key for rule in RULES if rule.group == "mechanics")
    said = FlagAnswer(f"a{place}", "mechanics", Said.SEEN, at, at, rules, "seen", "Ash")
    return replace(facts, answers=(*facts.answers, said))


def order_another_band(facts: CourseFacts, _plateau: str | None, place: int) -> CourseFacts:
    return replace(facts, targets=replace(facts.targets, spo2_low=Decimal(86 + place % 9)))


WRITES = st.sampled_from([append, append, append, come_late, correct, strike, acknowledge])
ANY = st.one_of(WRITES, st.just(order_another_band))


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(ANY, PLATEAUS, st.integers(0, 11)), min_size=2, max_size=14))
def test_a_fold_kept_from_write_to_write_is_the_fold_of_the_whole(writes):
    kept, facts = Watching(POLICIES, KeptFolds()), with_band(course())
    for write, plateau, place in writes:
        facts = write(facts, plateau, place)
        assert kept.look(facts, POLICY) == Watching(POLICIES).look(facts, POLICY)


@settings(max_examples=40, deadline=None)
@given(st.lists(PLATEAUS, min_size=1, max_size=10), st.floats(0, 40))
def test_the_summary_says_at_any_hour_what_the_rules_say_then(plateaus, hours):
    facts = with_band(course())
    for plateau in plateaus:
        facts = append(facts, plateau, 0)
    now = facts.assessments[-1].observed_at + timedelta(hours=hours)
    summary = summarise(facts, POLICY, LARCH)
    told = {
        (each.flag.rule, each.flag.raised_at) for g in summary.flags_at(now) for each in g.flags
    }
    seen = watch(facts, POLICY, now)
    assert told == {(flag.rule, flag.raised_at) for flag in seen.flags if flag.open}
    assert [each.once for each in summary.once] == list(seen.once)


ABSENT = {
    "not charted": {"plateau_pressure_obs": None, "hold_passive": None},
    "effort seen": {"hold_passive": "no"},
    "passive not answered": {"hold_passive": None},
    "over the peak": {"plateau_pressure_obs": "40"},
    "under PEEP": {"plateau_pressure_obs": "8"},
    "support": {"mode_family": "csv_ps"},
    "two levels": {"mode_family": "aprv"},
    "mode not known": {"mode_family": ""},
    "high flow": {"mode_family": "hfnc"},
}


@pytest.mark.parametrize("way", ABSENT)
def test_a_limit_that_cannot_be_judged_is_never_within(way):
    told = summarise(with_band(course(check(0, **ABSENT[way]))), POLICY, LARCH).statements
    verdict = next(one.verdict for one in told if one.key == "driving_pressure")
    assert verdict in (*NOT_EVALUABLE, Verdict.NOT_APPLICABLE)


@pytest.mark.parametrize("reason", ["effort", "refused"])
@pytest.mark.parametrize("key", ["plateau_pressure_obs", "spo2", "tidal_volume_obs"])
def test_a_value_that_was_not_measured_is_never_within(key, reason):
    values = {code: text for code, text in {**SETTINGS, **MEASURED}.items() if code != key}
    facts = with_band(course(row(at=later(), not_done={key: reason}, **values)))
    limit = {"tidal_volume_obs": "vt_per_pbw"}.get(key, key)
    told = summarise(facts, POLICY, LARCH).statements
    assert next(one.verdict for one in told if one.key == limit) in NOT_EVALUABLE


@pytest.mark.parametrize(
    ("key", "hours", "verdict"),
    [
        ("driving_pressure", 5.99, Verdict.WITHIN),
        ("driving_pressure", 6, Verdict.TOO_OLD),
        ("cuff_pressure_cmh2o", 11.99, Verdict.WITHIN),
        ("cuff_pressure_cmh2o", 12, Verdict.TOO_OLD),
    ],
)
def test_a_value_is_too_old_from_its_own_limit_on(key, hours, verdict):
    facts = with_band(course(check(0, cuff_pressure_cmh2o="26")))
    told = {one.key: one for one in summarise(facts, POLICY, LARCH).statements}
    assert told[key].as_of(later(hours=hours)).verdict is verdict


@pytest.mark.parametrize(
    ("plateaus", "verdict"),
    [
        (("25",), Verdict.WITHIN),
        (("26",), Verdict.OUTSIDE_ONCE),
        (("26", "26"), Verdict.OUTSIDE),
        (("30",), Verdict.OUTSIDE_ONCE),
        (("31",), Verdict.OUTSIDE),
        (("26", "22", "26"), Verdict.OUTSIDE),
        (("26", "22", "22", "26"), Verdict.OUTSIDE_ONCE),
    ],
)
def test_outside_is_a_flag_where_its_rule_says_so_and_outside_once_before(plateaus, verdict):
    """PEEP 10: over 15 from a plateau of 26; far over, and a flag at once, over 20 from 31."""
    rows = [check(4 * n, plateau_pressure_obs=text) for n, text in enumerate(plateaus)]
    told = summarise(with_band(course(*rows)), POLICY, LARCH).statements
    assert next(one.verdict for one in told if one.key == "driving_pressure") is verdict


def test_a_limit_without_a_rule_is_confirmed_by_two_values_in_a_row():
    limit = replace(POLICY.limits["ph"], key="heart_rate", under=None, over=Decimal(130))
    policy = replace(POLICY, limits={**POLICY.limits, "heart_rate": limit})
    assert "heart_rate" not in RULES_OF
    rows = [check(4 * n, heart_rate="140") for n in range(2)]
    first, both = (summarise(with_band(course(*rows[: n + 1])), policy, LARCH) for n in range(2))
    assert [each.once.rule for each in first.once] == ["heart_rate"]
    (flag,) = (each.flag for group in both.flags_at(later(hours=4)) for each in group.flags)
    assert (flag.rule, flag.raised_at, both.once) == ("heart_rate", later(hours=4), ())


def test_where_every_rule_of_a_limit_is_off_it_is_told_and_never_a_flag():
    figures = replace(POLICY.rules["driving_pressure_over"], on=False)
    policy = replace(POLICY, rules={**POLICY.rules, "driving_pressure_over": figures})
    rows = [check(4 * n, plateau_pressure_obs="29") for n in range(3)]
    summary = summarise(with_band(course(*rows)), policy, LARCH)
    told = next(one for one in summary.statements if one.key == "driving_pressure")
    assert (told.verdict, summary.flags_at(later(hours=8))) == (Verdict.NOTED, ())


def test_age_clears_no_flag_and_a_lower_level_is_said_until_somebody_says_that_it_was_seen():
    rows = [check(4 * n, plateau_pressure_obs="20") for n in range(6)]
    rows += [check(24 + 4 * n, plateau_pressure_obs="24") for n in range(9)]
    facts, now = with_band(course(*rows)), later(hours=56)
    (group,) = summarise(facts, POLICY, LARCH).flags_at(now)
    drifts = [each.flag for each in group.flags if each.flag.drift]
    assert any(flag.new_level_since(now) for flag in drifts)
    said = FlagAnswer("a", "mechanics", Said.SEEN, now, now, group.rules, "new level", "Ash")
    answered = summarise(replace(facts, answers=(said,)), POLICY, LARCH)
    assert not any(each.flag.drift for g in answered.flags_at(now) for each in g.flags)


def test_groups_stand_oldest_first_and_safety_last():
    rows = [check(4 * n, plateau_pressure_obs="27", cuff_pressure_cmh2o="12") for n in range(2)]
    summary = summarise(with_band(course(*rows)), POLICY, LARCH)
    flags = [each for group in summary.groups for each in group.flags]
    assert [group.group for group in groups_now(reversed(flags), ())] == ["mechanics", "safety"]
