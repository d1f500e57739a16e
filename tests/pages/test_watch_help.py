"""The page of the rules: every rule, its numbers in force, and figures that say what they are."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.pages.frame import Frame
from app.pages.watch_help import RuleEntry, WatchHelp, watch_help
from app.rules.measured import measured
from app.rules.policy import Policy, starting_policy
from app.rules.watch.overdue import RULE as OVERDUE
from app.rules.watch.rules import RULES
from tests.browser.sample_frame import frame

SHIPPED = starting_policy()


def page(policy: Policy = SHIPPED) -> WatchHelp:
    over: Frame = frame("Rules")
    return watch_help(over, policy, measured())


def entry(key: str, policy: Policy = SHIPPED) -> RuleEntry:
    return next(e for group in page(policy).groups for e in group.entries if e.key == key)


def test_every_rule_stands_there_once_with_its_own_sentence():
    told = [(e.key, e.sentence) for group in page().groups for e in group.entries]
    assert sorted(told) == sorted((rule.key, rule.sentence) for rule in (*RULES, OVERDUE))


@pytest.mark.parametrize(
    ("key", "raises"),
    [
        ("driving_pressure_over", "2 of the last 3 values over 15, or one more than 5 past that"),
        ("vt_set_outside", "one value over 8"),
        ("auto_peep_high", "one value 5 or more"),
        ("ph_outside", "one value under 7.2 or over 7.55"),
        ("fio2_step", "2 values in a row at least 20 above the median of 24 h"),
        (
            "compliance_fall",
            (
                "the median of the last 2 values at least 20 % below that of values 12 to 48 h "
                "old, and at least 2 times the scatter of this patient's own values; "
                "one value more where the peaks do not share it"
            ),
        ),
        ("peep_slide", "2 values in a row at least 4 above the best day of the last three"),
        ("plateau_overdue", "none for more than 8 h"),
    ],
)
def test_when_a_rule_raises_is_said_in_the_numbers_in_force(key: str, raises: str):
    assert entry(key).raises == raises


def test_a_band_of_the_patients_own_is_called_so():
    assert "outside the band ordered for this patient" in entry("spo2_under").raises


def test_a_unit_that_set_another_limit_is_told_that_the_figures_do_not_hold_for_it():
    limit = replace(SHIPPED.limits["driving_pressure"], over=Decimal(14))
    own = replace(SHIPPED, limits={**SHIPPED.limits, "driving_pressure": limit})
    assert entry("driving_pressure_over", own).differs
    assert page(own).differing == 1
    assert page().differing == 0


def test_a_rule_that_a_unit_set_off_says_so():
    off = replace(SHIPPED.rules["leak_heard"], on=False)
    own = replace(SHIPPED, rules={**SHIPPED.rules, "leak_heard": off})
    assert entry("leak_heard", own).raises == "not in use in this unit"


def test_figures_speak_of_what_is_charted_and_name_no_illness():
    told = " ".join(row.words for block in page().blocks for row in block.rows).lower()
    assert not [word for word in ("pneumothorax", "oedema", "spasm", "plug") if word in told]


def test_every_figure_has_its_interval_around_it():
    for block in measured().blocks:
        for found in block.found:
            assert 0 <= found.share.low <= found.share.middle <= found.share.high <= 1
        assert block.per_shift.low <= block.per_shift.middle <= block.per_shift.high
