"""The numbers of the rules in a policy's text."""

import re

import pytest

from app.rules.policy import STARTING_POLICY_FILE, PolicyError, read_policy
from app.rules.watch.overdue import KEY
from app.rules.watch.rules import RULES

TEXT = STARTING_POLICY_FILE.read_text(encoding="utf-8")
BEFORE_RULES = TEXT[: TEXT.index("[rules.baseline]")]


def test_every_rule_has_its_numbers_and_every_table_its_rule():
    keys = {rule.key for rule in RULES} | {KEY, "baseline"}
    assert set(read_policy(TEXT).rules) == keys


def test_every_limit_that_a_rule_confirms_is_in_the_starting_policy():
    assert {rule.limit for rule in RULES} - {""} <= set(read_policy(TEXT).limits)


def test_an_older_policy_takes_the_numbers_that_ship():
    assert read_policy(BEFORE_RULES).rules == read_policy(TEXT).rules


def test_a_policy_changes_one_number_and_keeps_the_others():
    changed = read_policy(f'{BEFORE_RULES}[rules.rate_rise]\ntwice = 8\nsource = "Ours."\n')
    numbers = changed.rules["rate_rise"]
    assert (numbers["twice"], numbers["window_h"], numbers.source) == (8, 24, "Ours.")


def test_a_rule_can_be_switched_off():
    assert not read_policy(f"{BEFORE_RULES}[rules.rate_rise]\non = false\n").rules["rate_rise"].on


@pytest.mark.parametrize(
    ("table", "where"),
    [
        ('[rules.no_such]\ntwice = 1\nsource = "x"', "rules.no_such"),
        ('[rules.rate_rise]\nthrice = 1\nsource = "x"', "rules.rate_rise.thrice"),
        ('[rules.rate_rise]\ntwice = "8"\nsource = "x"', "rules.rate_rise.twice"),
        ('[rules.rate_rise]\ntwice = nan\nsource = "x"', "rules.rate_rise.twice"),
        ('[rules.rate_rise]\ntwice = -1\nsource = "x"', "rules.rate_rise.twice"),
        ("[rules.rate_rise]\ntwice = 8", "rules.rate_rise.source"),
        ("[rules.rate_rise]\non = 1", "rules.rate_rise.on"),
    ],
)
def test_a_wrong_entry_is_named(table, where):
    with pytest.raises(PolicyError, match=re.escape(where)):
        read_policy(f"{BEFORE_RULES}{table}\n")
