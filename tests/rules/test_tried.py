"""A policy tried on the past: flags of the span, by course and rule, under either policy."""

from datetime import timedelta
from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.rules import tried
from app.rules.tried import try_on_the_past
from tests.charting.rows import course, later
from tests.rules.test_own_ranges import limited, own, plateaus
from tests.rules.watch.scenes import POLICY

NOW = later(hours=13)


def counted(facts, proposed, days: int = 1, now=NOW):
    (told,) = try_on_the_past([facts], POLICY, proposed, now, days).courses
    return told.in_force["plateau_over"], told.proposed["plateau_over"]


@pytest.mark.parametrize(("over", "flags"), [(27, 1), (28, 0), (30, 0)])
def test_it_counts_what_the_proposed_policy_would_have_raised(over: int, flags: int) -> None:
    facts = course(*plateaus("28", "28", "28"))
    assert counted(facts, limited(over, 2)) == (0, flags)


def test_what_was_raised_before_the_span_is_not_counted() -> None:
    facts = course(*plateaus("28", "28", "28", "28", "28"))
    late = later(hours=30)
    assert counted(facts, limited(26, 2), now=late) == (0, 0)


def test_a_patients_own_range_holds_under_either() -> None:
    facts = replace(course(*plateaus("32", "32", "32")), own_ranges=(own("34"),))
    assert counted(facts, limited(26, 2)) == (0, 0)


def test_a_course_without_a_check_in_the_span_is_left_out() -> None:
    facts = course(*plateaus("28"))
    found = try_on_the_past([facts], POLICY, POLICY, NOW + timedelta(days=9), 7)
    assert (found.courses, found.left_out) == ((), ())


def test_no_more_is_tried_than_there_is_time_for(monkeypatch) -> None:
    monkeypatch.setattr(tried, "MOST_ROWS", 4)
    facts = course(*plateaus("28", "28", "28"))
    other = replace(facts, course_id="another")
    found = try_on_the_past([facts, other], POLICY, POLICY, NOW, 1)
    assert [each.course_id for each in found.courses] == [facts.course_id]
    assert found.left_out == ("another",)


def test_the_same_policy_raises_the_same() -> None:
    over = replace(POLICY.limits["driving_pressure"], over=Decimal(15))
    same = replace(POLICY, limits={**POLICY.limits, "driving_pressure": over})
    facts = course(*plateaus("36", "36"))
    (told,) = try_on_the_past([facts], POLICY, same, NOW, 1).courses
    assert told.in_force == told.proposed
    assert told.in_force["plateau_over"] == 1
