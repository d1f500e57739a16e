"""A patient's own range takes the unit's place from when it was written until it ends."""

from datetime import datetime
from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.facts import OwnRange, Targets
from app.rules.bed_summary import summarise
from app.rules.own_ranges import in_force, overrides_of, own_policies
from app.rules.policy import Policy
from app.rules.standing import Verdict
from app.rules.unit_clock import UnitClock
from app.rules.watch import InForceFrom, Policies
from app.rules.watched import Watching
from tests.charting.rows import body, course, later
from tests.rules.watch.scenes import POLICY, check

CLOCK = UnitClock("UTC")


def own(over: str | None = "34", *, at: datetime | None = None, **more: object) -> OwnRange:
    given = {
        "limit": "plateau_pressure_obs",
        "under": None,
        "over": None if over is None else Decimal(over),
        "from_at": at or later(hours=-1),
        "ordered_by": "Dr Oak",
        "ordered_at": later(hours=-2),
        "why": "stiff chest wall",
    }
    return OwnRange(**(given | more))  # type: ignore[arg-type]


def stated(*rows, ranges=(), policies: Policies | None = None, policy: Policy = POLICY, **facts):
    told = replace(course(*rows), own_ranges=tuple(ranges), **facts)
    watching = Watching(own_policies(policies or Policies(policy), told))
    summary = summarise(told, policy, CLOCK, watching)
    return summary, {entry.key: entry for entry in summary.statements}


def plateaus(*values: str):
    peaks = {"peak_inspiratory_pressure_obs": "44"}
    return [check(4 * n, plateau_pressure_obs=value, **peaks) for n, value in enumerate(values)]


@pytest.mark.parametrize(
    ("plateau", "verdict"), [("34", Verdict.WITHIN), ("35", Verdict.OUTSIDE_ONCE)]
)
def test_a_value_is_held_against_the_patients_own_range(plateau, verdict) -> None:
    _, told = stated(*plateaus(plateau), ranges=[own()])
    entry = told["plateau_pressure_obs"]
    assert entry.verdict is verdict
    assert "This patient's own range, ordered by Dr Oak: stiff chest wall." in entry.source


def test_what_was_observed_before_it_was_written_stays_judged_by_the_units_range() -> None:
    _, told = stated(*plateaus("32"), ranges=[own(at=later(minutes=1))])
    assert told["plateau_pressure_obs"].verdict is Verdict.OUTSIDE_ONCE


def test_a_flag_is_raised_by_the_range_of_its_own_moments() -> None:
    summary, _ = stated(*plateaus("32", "32"), ranges=[own(at=later(minutes=1))])
    assert "plateau_over" not in [
        told.flag.rule for group in summary.groups for told in group.flags
    ]
    summary, _ = stated(*plateaus("32", "32"))
    assert "plateau_over" in [told.flag.rule for group in summary.groups for told in group.flags]


def test_it_ends_at_its_date_with_the_next_value_and_not_by_time_alone() -> None:
    ranges = [own(until=later(hours=3))]
    _, before = stated(*plateaus("32"), ranges=ranges)
    assert before["plateau_pressure_obs"].verdict is Verdict.WITHIN
    _, after = stated(*plateaus("28", "32"), ranges=ranges)
    assert after["plateau_pressure_obs"].verdict is Verdict.OUTSIDE_ONCE


def test_another_range_or_its_end_takes_its_place() -> None:
    first, second = own(), own("36", at=later(hours=2))
    ended = own(None, at=later(hours=6))
    overrides = overrides_of((first, second, ended))
    assert [(each.over, each.until) for each in overrides] == [
        (34, later(hours=2)),
        (36, later(hours=6)),
    ]
    assert in_force((first, second, ended), later(hours=5)) == (second,)
    assert in_force((first, second, ended), later(hours=6)) == ()


def test_without_any_the_policies_are_the_very_same_object_and_with_some_always_one() -> None:
    policies, facts = Policies(POLICY), course(check(0))
    assert own_policies(policies, facts) is policies
    with_own = replace(facts, own_ranges=(own(),))
    assert own_policies(policies, with_own) is own_policies(policies, with_own)


def limited(over: int, version: int) -> Policy:
    limit = replace(POLICY.limits["plateau_pressure_obs"], over=Decimal(over))
    limits = {**POLICY.limits, "plateau_pressure_obs": limit}
    return replace(POLICY, version=version, limits=limits)


def test_a_changed_policy_judges_moments_after_it_and_leaves_earlier_ones() -> None:
    first, second = limited(30, 1), limited(26, 2)
    policies = Policies([InForceFrom(later(days=-1), first), InForceFrom(later(hours=6), second)])
    _, told = stated(*plateaus("28", "28"), policies=policies, policy=second)
    assert told["plateau_pressure_obs"].verdict is Verdict.WITHIN
    summary, told = stated(*plateaus("28", "28", "28"), policies=policies, policy=second)
    entry = told["plateau_pressure_obs"]
    assert (entry.verdict, entry.limit) == (Verdict.OUTSIDE, Decimal(26))
    flags = [told.flag for group in summary.groups for told in group.flags]
    found = next(flag for flag in flags if flag.rule == "plateau_over")
    assert (found.raised_at, found.policy_version) == (later(hours=8), 2)


def test_of_two_versions_in_force_the_higher_judges_whatever_began_later() -> None:
    policies = Policies(
        [InForceFrom(later(hours=-1), limited(26, 2)), InForceFrom(later(hours=0), limited(30, 1))]
    )
    assert policies.at(later(hours=2)).version == 2


OWN_BREATHS = {"mode_family": "csv_ps", "tidal_volume_obs": "640", "pressure_support_set": "8"}


@pytest.mark.parametrize(("ordered", "flagged"), [(None, False), ("6", True)])
def test_a_volume_on_own_breaths_is_a_flag_only_where_one_was_ordered(ordered, flagged) -> None:
    targets = Targets(
        tidal_volume_ml_kg=None if ordered is None else Decimal(ordered), ordered_by="Dr Oak"
    )
    family = {"tidal_volume_set": None, "flow_rate_set": None, "resp_rate_set": None}
    rows = [check(4 * n, **{**family, **OWN_BREATHS}) for n in range(2)]
    size = (body("170", "M"),)
    summary, told = stated(*rows, targets=targets, body_sizes=size)
    open_rules = {told.flag.rule for group in summary.groups for told in group.flags}
    assert ("vt_measured_outside" in open_rules) is flagged
    assert bool(summary.told) is not flagged
    wanted = Verdict.OUTSIDE if flagged else Verdict.NOTED
    assert told["vt_per_pbw"].verdict is wanted
