"""Once the tube is out, what was read through it is neither a flag, nor within, nor too old."""

from datetime import timedelta
from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.airways import PLACED, REMOVED
from app.charting.facts import CourseFacts, Kind
from app.physiology.answer import NotAvailable, Value
from app.rules.bed_summary import BedSummary, summarise, work_out
from app.rules.policy import Limit
from app.rules.standing import Statement, Verdict
from app.rules.unit_clock import UnitClock
from app.rules.watch import sightings, watch
from tests.charting.rows import airway, course, later, row
from tests.rules.watch.scenes import POLICY, check, flag, with_band

CLOCK = UnitClock("America/New_York")
OUT = 5


def extubated(*more, breathes: str = "", **values: object) -> CourseFacts:
    """Two checks on the machine, then the tube comes out; `breathes` is what is charted then."""
    tube = airway(at=later())
    support = row(breathes, Kind.EVENT, at=later(hours=OUT), change_reason="Tube out")
    facts = with_band(course(check(0, **values), check(4, **values), support, *more))
    out = replace(tube, act=REMOVED, category="none", observed_at=later(hours=OUT))
    return replace(facts, airways=(tube, out))


def summary(facts: CourseFacts) -> BedSummary:
    return summarise(facts, POLICY, CLOCK)


def told(facts: CourseFacts, key: str, *, hours: float = OUT + 1) -> Statement:
    found = next(each for each in summary(facts).statements if each.key == key)
    return found.as_of(later(hours=hours))


@pytest.mark.parametrize("key", ["plateau_pressure_obs", "driving_pressure", "vt_per_pbw"])
@pytest.mark.parametrize("hours", [OUT, OUT + 30])
def test_a_limit_of_the_tube_does_not_apply_however_old_its_value_is(key: str, hours: float):
    found = told(extubated(), key, hours=hours)
    assert found.verdict is Verdict.NOT_APPLICABLE
    assert found.reason == "no tube in place; what is breathed now is not charted"
    assert found.last_shown


def test_what_is_read_of_the_patient_stands_as_before():
    assert told(extubated(), "spo2").verdict is Verdict.WITHIN
    assert told(extubated(), "spo2", hours=30).verdict is Verdict.TOO_OLD


@pytest.mark.parametrize(
    ("breathes", "key", "verdict"),
    [
        ("hfnc", "plateau_pressure_obs", Verdict.NOT_APPLICABLE),
        ("hfnc", "vt_per_pbw", Verdict.NOT_APPLICABLE),
        ("hfnc", "fio2_set", Verdict.NOT_DONE),
        ("niv", "driving_pressure", Verdict.NOT_APPLICABLE),
    ],
)
def test_what_is_breathed_now_says_which_limits_apply(breathes, key, verdict):
    assert told(extubated(breathes=breathes), key).verdict is verdict


def test_a_value_read_since_counts():
    facts = extubated(check(6, mode_family="hfnc", fio2_set="70"), breathes="hfnc")
    found = told(facts, "fio2_set", hours=6)
    assert (found.verdict, found.shown) == (Verdict.OUTSIDE_ONCE, "70")


def test_the_board_shows_no_mechanics_and_calls_none_of_them_stale():
    cell = summary(extubated()).cells["driving_pressure"]
    assert (cell.text, cell.applicable, cell.stale_at) == ("", False, None)
    assert cell.last_text == "12"


def test_a_flag_of_the_tube_ends_with_it_and_says_why():
    facts = extubated(plateau_pressure_obs="34", peak_inspiratory_pressure_obs="40")
    seen = watch(facts, POLICY, later(hours=OUT))
    raised = flag("plateau_over", seen)
    assert raised is not None
    assert (raised.cleared_at, raised.ended_by) == (later(hours=OUT), "the tube is out")
    assert seen.once == ()
    before = flag("plateau_over", watch(facts, POLICY, later(hours=OUT) - timedelta(minutes=1)))
    assert before is not None
    assert before.open


def worse(*more, **since: object) -> CourseFacts:
    """Three days on 40 %, then more oxygen for a lower saturation; then the tube comes out."""
    days = [check(hour, fio2_set="40", spo2="96") for hour in range(0, 72, 4)]
    held = [check(hour, fio2_set="58", spo2="92") for hour in (72, 76)]
    support = row("", Kind.EVENT, at=later(hours=77), change_reason="Tube out")
    tube = airway(at=later())
    out = replace(tube, act=REMOVED, category="none", observed_at=later(hours=77))
    facts = with_band(course(*days, *held, support, *more), high="90")
    return replace(facts, airways=(tube, out))


@pytest.mark.parametrize("rule", ["sf_slide", "spo2_over_band"])
def test_what_stands_on_the_oxygen_given_through_the_tube_ends_with_it(rule: str):
    before = watch(worse(), POLICY, later(hours=76))
    assert rule in {each.rule for each in (*before.flags, *before.information) if each.open}
    seen = watch(worse(), POLICY, later(hours=77))
    (raised,) = [each for each in (*seen.flags, *seen.information) if each.rule == rule]
    assert (raised.cleared_at, raised.ended_by) == (later(hours=77), "the tube is out")


@pytest.mark.parametrize("family", ["", "hfnc"])
def test_a_saturation_alone_says_nothing_of_the_oxygen_of_before(family: str):
    alone = row(family, Kind.BRIEF, at=later(hours=78), spo2="88")
    facts = worse(alone)
    assert isinstance(work_out(facts, POLICY)[-1][1]["sf_ratio"].answer, NotAvailable)
    assert "sf" not in list(sightings(facts, POLICY))[-1].values


def test_oxygen_without_a_mode_ends_with_the_tube_too():
    facts = course(
        row("", Kind.BRIEF, fio2_set="60"), row("", Kind.BRIEF, later(hours=2), spo2="92")
    )
    tube = airway(at=later())
    out = replace(tube, act=REMOVED, category="none", observed_at=later(hours=1))
    with_it = work_out(replace(facts, airways=(tube,)), POLICY)
    assert isinstance(with_it[-1][1]["sf_ratio"].answer, Value)
    without = work_out(replace(facts, airways=(tube, out)), POLICY)
    assert without[-1][1]["sf_ratio"].answer.missing == ("fio2",)


def test_oxygen_charted_as_the_tube_came_out_is_what_is_breathed_then():
    at = later(hours=1)
    facts = course(row("", Kind.BRIEF, fio2_set="60"), row("", Kind.BRIEF, at, fio2_set="30"))
    facts = replace(
        facts,
        assessments=(*facts.assessments, row("", Kind.BRIEF, later(hours=2), spo2="93")),
        airways=(airway(), replace(airway(), act=REMOVED, category="none", observed_at=at)),
    )
    assert work_out(facts, POLICY)[-1][1]["sf_ratio"].answer.shown == "310"


def test_a_units_own_limit_of_it_waits_for_what_is_breathed_now():
    limit = Limit("sf_ratio", Decimal(235), None, "Unit meeting", group="oxygenation")
    policy = replace(POLICY, limits={**POLICY.limits, "sf_ratio": limit})

    def said(facts: CourseFacts) -> Statement:
        told = summarise(facts, policy, CLOCK).statements
        return next(each for each in told if each.key == "sf_ratio")

    assert said(worse()).verdict is Verdict.NOT_APPLICABLE
    flow = row("hfnc", Kind.BRIEF, at=later(hours=78), spo2="92", lpm_set="40")
    entry = said(worse(flow))
    assert (entry.verdict, entry.last_shown) == (Verdict.NOT_DONE, "159")
    assert entry.reason == "no FiO2 charted since the tube came out"


def test_a_flag_of_the_patient_stays():
    seen = watch(extubated(spo2="80"), POLICY, later(hours=OUT))
    raised = flag("spo2_under", seen)
    assert raised is not None
    assert raised.open


def test_nothing_of_the_tube_is_due():
    facts = extubated(humidifier="hme", filter_changed_on="2026-11-01")
    kinds = {item.kind for item in summary(facts).due_items}
    assert kinds.isdisjoint({"plateau", "cuff", "filter", "read_again"})


def test_a_tube_that_went_in_again_is_judged_by_what_is_read_through_it():
    facts = extubated(check(7, plateau_pressure_obs="24"))
    again = replace(facts.airways[0], act=PLACED, observed_at=later(hours=6))
    facts = replace(facts, airways=(*facts.airways, again))
    found = told(facts, "plateau_pressure_obs", hours=7)
    assert (found.verdict, found.shown) == (Verdict.WITHIN, "24")
