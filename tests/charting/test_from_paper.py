"""A check from paper: its time is past, its writer is named, and a check near it is asked about."""

import pytest

from app.charting.check import read_check
from app.charting.facts import Kind
from app.charting.from_paper import PAPER
from tests.charting.rows import course, later, row
from tests.charting.test_check import FULL, form

NOW = later(hours=5)


def objections(*rows, by="Ash", **more):
    check = form(FULL, source=PAPER, paper_by=by, **more)
    found = read_check(check, course(*rows), now=NOW)
    return [(each.field, each.key.partition(":")[0]) for each in found.objections]


def near(minutes: float, **more):
    return row(at=later(hours=4, minutes=minutes), **(FULL | {"heart_rate": "80"} | more))


def test_a_check_from_paper_stands_with_its_writer_and_a_time_that_is_past() -> None:
    assert objections() == []


@pytest.mark.parametrize("by", ["", "  "])
def test_whose_paper_it_was_has_to_be_said(by: str) -> None:
    assert objections(by=by) == [("paper_by", "")]


@pytest.mark.parametrize(("minutes", "refused"), [(-4, True), (-5, False), (-6, False)])
def test_what_was_seen_just_now_is_not_from_paper(minutes: int, refused: bool) -> None:
    found = objections(observed_at=later(hours=5, minutes=minutes))
    assert (("observed_at", "") in found) is refused


@pytest.mark.parametrize("minutes", [-10, -2, 0, 10])
def test_a_check_within_ten_minutes_is_asked_about(minutes: int) -> None:
    assert objections(near(minutes)) == [("", "from_paper")]


@pytest.mark.parametrize("minutes", [-11, 11])
def test_one_further_away_is_another_check(minutes: int) -> None:
    assert objections(near(minutes)) == []


def test_a_gas_beside_it_is_no_second_check() -> None:
    gas = row(kind=Kind.GAS, at=later(hours=4), ph="7.31")
    assert objections(gas) == []


def test_the_question_shows_both_and_yes_keeps_both() -> None:
    check = form(FULL, source=PAPER, paper_by="Ash")
    facts = course(near(-2, peep_set="10"))
    (asked,) = read_check(check, facts, now=NOW).objections
    assert "ash charted a check 2 minutes before this time: FiO2 45, PEEP 10" in asked.sentence
    assert "On the paper stands FiO2 45, PEEP 8" in asked.sentence
    yes = form(FULL, source=PAPER, paper_by="Ash", accepted=frozenset({asked.key}))
    assert read_check(yes, facts, now=NOW).stands


def test_a_check_at_the_bedside_is_asked_none_of_this() -> None:
    assert read_check(form(FULL), course(near(-2)), now=NOW).stands
