"""Which policy judges which moment, and what was ordered for one patient."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.rules.policy import PolicyError
from app.rules.watch import InForceFrom, Override, Policies, watch
from tests.charting.rows import course, later
from tests.rules.watch.scenes import POLICY, flag, run

ORDER = {
    "limit": "driving_pressure",
    "under": None,
    "over": Decimal(18),
    "from_at": later(hours=-1),
    "reason": "stiff chest wall",
    "ordered_by": "Dr Oak",
}


def with_limit(over: int, version: int):
    limit = replace(POLICY.limits["driving_pressure"], over=Decimal(over))
    return replace(POLICY, version=version, limits={**POLICY.limits, "driving_pressure": limit})


def test_each_moment_is_judged_by_the_policy_then_in_force():
    rows = run("plateau_pressure_obs", "26", "26", "26", "26")
    policies = Policies(
        [
            InForceFrom(later(hours=6), with_limit(15, 2)),
            InForceFrom(later(hours=-9), with_limit(18, 1)),
        ]
    )
    found = flag("driving_pressure_over", watch(course(*rows), policies, later(hours=12)))
    assert found is not None
    assert (found.raised_at, found.policy_version) == (later(hours=8), 2)


def test_a_patients_own_limit_takes_the_units_place_and_says_whose():
    rows = run("plateau_pressure_obs", "26", "29", "29")
    policies = Policies(POLICY, [Override(**ORDER)])
    found = flag("driving_pressure_over", watch(course(*rows), policies, later(hours=8)))
    assert found is not None
    assert found.raised_at == later(hours=8)
    assert "Dr Oak: stiff chest wall" in found.source


@pytest.mark.parametrize(("until", "raised"), [(4, True), (4.1, False)])
def test_an_order_ends_at_its_moment(until, raised):
    rows = run("plateau_pressure_obs", "26", "26")
    policies = Policies(POLICY, [Override(**ORDER, until=later(hours=until))])
    found = flag("driving_pressure_over", watch(course(*rows), policies, later(hours=4)))
    assert (found is not None) is raised


@pytest.mark.parametrize("missing", ["reason", "ordered_by"])
def test_an_order_needs_a_reason_and_a_name(missing):
    with pytest.raises(PolicyError, match="reason and who"):
        Override(**{**ORDER, missing: " "})
