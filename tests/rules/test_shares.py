"""A change kept as a logarithm is written in percent, and typed back as the same number."""

import math
from decimal import Decimal

import pytest

from app.rules.policy_tree import flat, shipped_tree
from app.rules.shares import Share, as_written, share_of


@pytest.mark.parametrize(
    ("rising", "kept", "percent"),
    [
        (False, "0.25", "22.1"),
        (True, "0.25", "28.4"),
        (False, "0.223", "20.0"),
        (False, "0", "0.0"),
    ],
)
def test_a_logarithm_is_a_share_of_the_level(rising: bool, kept: str, percent: str) -> None:
    assert Share(rising).percent(Decimal(kept)) == Decimal(percent)


@pytest.mark.parametrize("rising", [False, True])
@pytest.mark.parametrize("percent", ["1", "5", "19.7", "20", "50", "99"])
def test_percent_come_back_as_they_were_typed(rising: bool, percent: str) -> None:
    share, typed = Share(rising), Decimal(percent)
    assert share.percent(share.kept(typed)) == typed
    ratio = 1 + float(typed) / 100 if rising else 1 - float(typed) / 100
    assert float(share.kept(typed)) == pytest.approx(abs(math.log(ratio)), abs=1e-4)


def test_only_changes_measured_as_a_ratio_are_shares() -> None:
    places = {where for where in flat(shipped_tree()) if share_of(where) is not None}
    rules = {where.split(".")[1] for where in places}
    assert rules == {
        "compliance_step",
        "compliance_fall",
        "compliance_slide",
        "compliance_dynamic_step",
        "compliance_both_step",
        "sf_slide",
    }
    assert as_written("rules.fio2_step.twice", 20) == 20
    assert as_written("rules.compliance_fall.source", "words") == "words"
    assert share_of("rules.compliance_fall.window_h") is None
