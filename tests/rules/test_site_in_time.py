"""Adult age and barometric pressure hold from their version of the policy on, as limits do."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.check import TypedCheck, read_check
from app.charting.facts import CourseFacts, Kind
from app.charting.site_figures import SiteFigures, SiteInTime
from app.physiology.answer import NotAvailable, Query, Value
from app.rules.bed_summary import BedSummary, summarise, work_out
from app.rules.policy import Policy
from app.rules.standing import Verdict
from app.rules.unit_clock import UnitClock
from app.rules.watch import InForceFrom, Override, Policies, flags_of
from app.rules.watched import KeptFolds, Watching
from tests.charting.rows import course, gas, later, row
from tests.rules.watch.scenes import POLICY, check, with_band

CLOCK = UnitClock("America/New_York")
CHANGED_AT = later(hours=6)


def site(version: int, **figures: object) -> Policy:
    return replace(POLICY, version=version, **figures)


def changing(first: Policy, second: Policy) -> Policies:
    return Policies([InForceFrom(later(days=-1), first), InForceFrom(CHANGED_AT, second)])


HIGH_UP = changing(site(1, barometric_mmhg=Decimal(760)), site(2, barometric_mmhg=Decimal(630)))
OLDER_ADULTS = changing(site(1, adult_age_y=18), site(2, adult_age_y=20))
YOUNGER_ADULTS = changing(site(1, adult_age_y=20), site(2, adult_age_y=18))


def two_gases(pao2: str = "80") -> CourseFacts:
    said = {"pao2": pao2, "paco2": "40", "ph": "7.40", "fio2_at_sample": "40"}
    return course(row(fio2_set="40"), *(gas(later(hours=hour), **said) for hour in (1, 9)))


def told(facts: CourseFacts, policies: Policies, *, kept: KeptFolds | None = None) -> BedSummary:
    return summarise(facts, policies.at(later(days=9)), CLOCK, Watching(policies, kept))


def test_the_older_gas_keeps_the_pressure_of_its_own_moment() -> None:
    facts = two_gases()
    _, before, after = (found["alveolar_po2"].answer for _, found in work_out(facts, HIGH_UP))
    at_sea = work_out(facts, site(1))[1][1]["alveolar_po2"].answer
    high_up = work_out(facts, site(1, barometric_mmhg=Decimal(630)))[2][1]["alveolar_po2"].answer
    assert (before, after) == (at_sea, high_up)
    assert before.number > after.number


def test_what_the_pressure_refuses_is_refused_from_its_moment_on() -> None:
    _, before, after = work_out(two_gases("240"), HIGH_UP)
    assert isinstance(before[1]["pf_ratio"].answer, Value)
    assert isinstance(after[1]["pf_ratio"].answer, Query)


@pytest.mark.parametrize(("hour", "asked"), [(5, False), (6, True)])
def test_a_gas_that_is_typed_late_is_read_by_the_pressure_of_its_own_time(hour, asked) -> None:
    typed = {"gas_specimen": "arterial", "pao2": "250", "paco2": "40", "fio2_at_sample": "40"}
    check = TypedCheck(Kind.GAS, later(hours=hour), "", typed=typed)
    read = read_check(check, course(row()), now=later(hours=9), site=HIGH_UP.site)
    assert any("PaO2" in each.sentence for each in read.objections) is asked


def test_a_row_at_the_very_moment_is_of_the_new_version() -> None:
    facts = course(gas(CHANGED_AT, pao2="80", paco2="40", ph="7.40", fio2_at_sample="40"))
    origin = work_out(facts, HIGH_UP)[0][1]["alveolar_po2"].inputs["pb"]
    assert "630 mmHg" in origin.words


def test_what_rows_before_the_change_were_worked_out_to_is_kept() -> None:
    facts = replace(two_gases(), course_id="site in time, kept")
    before = work_out(facts, HIGH_UP.at(later()))
    after = work_out(facts, HIGH_UP)
    assert [one[1] is other[1] for one, other in zip(before, after, strict=True)] == [
        True,
        True,
        False,
    ]


def test_versions_that_leave_the_pair_alone_are_one_figure() -> None:
    same = changing(site(1), site(2, title="Another title"))
    assert same.site == SiteInTime(SiteFigures(POLICY.adult_age_y, POLICY.barometric_mmhg))
    assert HIGH_UP.site.later == ((CHANGED_AT, SiteFigures(18, Decimal(630))),)


def test_a_range_of_ones_own_leaves_the_sites_figures_alone() -> None:
    order = Override("driving_pressure", None, Decimal(18), later(), "stiff chest wall", "Dr Oak")
    assert HIGH_UP.with_overrides([order]).site == HIGH_UP.site


@pytest.mark.parametrize(
    ("policies", "given"), [(OLDER_ADULTS, [True, False]), (YOUNGER_ADULTS, [False, True])]
)
def test_who_is_adult_goes_by_the_age_in_force_at_each_check(policies, given) -> None:
    facts = replace(with_band(course(check(0), check(9), age_y=19)))
    answers = [found["vt_per_pbw"].answer for _, found in work_out(facts, policies)]
    assert [isinstance(answer, Value) for answer in answers] == given
    (reason,) = [answer.reason for answer in answers if isinstance(answer, NotAvailable)]
    assert "under 20 years" in reason


HIGH = {"plateau_pressure_obs": "26", "peak_inspiratory_pressure_obs": "36"}


def nineteen(*hours: float) -> CourseFacts:
    return with_band(course(*(check(hour, **HIGH) for hour in hours), age_y=19))


def test_a_flag_of_an_adult_is_history_once_the_unit_counts_them_as_a_child() -> None:
    open_before = told(nineteen(0, 4), changing(site(1), site(2)))
    assert "mechanics" in {group.group for group in open_before.groups}
    summary = told(nineteen(0, 4), OLDER_ADULTS)
    assert (summary.adult, summary.groups, summary.once, summary.told) == (False, (), (), ())
    found = flags_of(nineteen(0, 4, 9), OLDER_ADULTS, later(hours=9))
    assert found
    assert {(flag.open, flag.cleared_at) for flag in found} == {(False, later(hours=9))}


def test_a_childs_values_raise_nothing_once_the_unit_counts_them_as_an_adult() -> None:
    summary = told(nineteen(0, 4), YOUNGER_ADULTS)
    assert (summary.adult, summary.groups, summary.once) == (True, (), ())
    entry = next(each for each in summary.statements if each.key == "driving_pressure")
    assert (entry.verdict, entry.side) == (Verdict.NOT_APPLICABLE, "")
    assert entry.reason == "adult limit: not used under 20 years"
    once = told(nineteen(0, 4, 9), YOUNGER_ADULTS)
    assert "mechanics" not in {group.group for group in once.groups}
    assert {each.once.value.at for each in once.once} == {later(hours=9)}
    flagged = told(nineteen(0, 4, 9, 13), YOUNGER_ADULTS)
    assert "mechanics" in {group.group for group in flagged.groups}


@pytest.mark.parametrize("policies", [OLDER_ADULTS, YOUNGER_ADULTS, HIGH_UP])
def test_a_kept_fold_says_what_a_whole_one_says_across_the_change(policies) -> None:
    kept = KeptFolds()
    for last in range(1, 5):
        facts = nineteen(*(0, 4, 9, 13)[:last])
        assert told(facts, policies, kept=kept) == told(facts, policies)
