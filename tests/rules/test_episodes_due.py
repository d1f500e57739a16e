"""A screen is due once a day where somebody can be screened; numbers come from the policy."""

import pytest

from app.charting.event_facts import Event
from app.rules.bed_summary import summarise
from app.rules.policy import STARTING_POLICY_FILE, PolicyError, read_policy, starting_policy
from app.rules.unit_clock import UnitClock
from tests.charting.rows import course, later, row

POLICY = starting_policy()
LARCH = UnitClock("America/New_York")
TEXT = STARTING_POLICY_FILE.read_text(encoding="utf-8")
BREATHING = {"fio2_set": "40", "peep_set": "8", "spo2": "94"}


def due(*rows, events=(), policy=POLICY) -> list:
    facts = course(*rows, events=events)
    found = summarise(facts, policy, LARCH).due_items
    return [item.due_at for item in found if item.kind == "trial_screen"]


def event(kind: str, begun: float, ended: float | None = None) -> Event:
    until = None if ended is None else later(hours=ended)
    return Event(kind, kind, later(hours=begun), until, kind, "ash")


def test_the_first_screen_is_due_a_day_after_the_first_check_and_the_next_a_day_after_that():
    assert due(row(**BREATHING), row(at=later(hours=9), **BREATHING)) == [later(hours=24)]
    screened = (event("trial_screen", 20),)
    assert due(row(**BREATHING), events=screened) == [later(hours=44)]


@pytest.mark.parametrize("kind", ["prone", "breathing_trial", "ecmo", "standby"])
def test_nobody_is_screened_while_that_goes_on(kind):
    assert due(row(**BREATHING), events=(event(kind, 1),)) == []
    assert len(due(row(**BREATHING), events=(event(kind, 1, 2),))) == 1


def test_nobody_is_screened_on_high_flow_under_a_relaxant_or_below_the_adult_age():
    assert due(row("hfnc", fio2_set="40")) == []
    assert due(row(**BREATHING, nmb="yes")) == []
    child = course(row(**BREATHING), age_y=9)
    kinds = [item.kind for item in summarise(child, POLICY, LARCH).due_items]
    assert "trial_screen" not in kinds


def test_a_unit_may_make_no_screen_due():
    policy = read_policy(TEXT.replace("screen_every_h = 24", "screen_every_h = 0"))
    assert due(row(**BREATHING), policy=policy) == []


def test_a_policy_from_before_takes_the_numbers_that_ship():
    before = TEXT[: TEXT.index("[episodes]")] + TEXT[TEXT.index("# `essential`") :]
    assert read_policy(before).episodes == POLICY.episodes


@pytest.mark.parametrize(
    ("was", "becomes", "where"),
    [
        ("prone_h = 16", "prone_h = 0", "episodes.prone_h"),
        ("prone_h = 16", 'prone_h = "long"', "episodes.prone_h"),
        ("screen_peep = 8", "screen_peep = -1", "episodes.screen_peep"),
        ('prone_source = "', 'prone_source = "" #', "episodes.prone_source"),
    ],
)
def test_a_number_that_cannot_be_is_named(was, becomes, where):
    with pytest.raises(PolicyError) as refused:
        read_policy(TEXT.replace(was, becomes))
    assert refused.value.where == where


def test_after_standby_nothing_is_known_until_somebody_looked():
    facts = course(row(**BREATHING), events=(event("standby", 1, 2),))
    kinds = [item.what for item in summarise(facts, POLICY, LARCH).due_items]
    assert "full check after standby" in kinds
    summary = summarise(course(row(**BREATHING), events=(event("standby", 1),)), POLICY, LARCH)
    assert summary.family == "standby"
    assert "fio2_set" not in summary.cells
