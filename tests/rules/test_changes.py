"""What changed this shift: every step with its time, noise left out, and nothing from nought."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from app.rules.changes import AIRWAY, HEIGHT, MODE_FAMILY, changes_since
from app.rules.policy import starting_policy
from tests.charting.rows import AT, airway, body, course, later, row

POLICY = starting_policy()
BEFORE = AT - timedelta(hours=1)


def steps(*rows, since=AT, **more):
    return [
        (step.key, step.before, step.after)
        for step in changes_since(course(*rows, **more), since, POLICY)
    ]


@pytest.mark.parametrize(("to", "listed"), [("44", False), ("45", False), ("46", True)])
def test_oxygen_changes_by_more_than_the_noise_band_of_five(to: str, listed: bool) -> None:
    found = steps(row(fio2_set="40"), row(at=later(hours=4), fio2_set=to))
    assert found == ([("fio2_set", Decimal(40), Decimal(to))] if listed else [])


def test_small_steps_add_up_to_one_that_is_listed() -> None:
    rows = [row(at=later(hours=at), fio2_set=str(40 + 4 * at)) for at in range(3)]
    assert steps(*rows) == [("fio2_set", Decimal(40), Decimal(48))]


def test_every_step_is_listed_and_not_just_the_ends() -> None:
    rows = [row(at=later(hours=at), peep_set=peep) for at, peep in enumerate(("8", "12", "8"))]
    assert [after for _, _, after in steps(*rows)] == [Decimal(12), Decimal(8)]


def test_what_had_no_value_before_is_first_seen() -> None:
    assert steps(row(peep_set="8"), since=BEFORE) == [
        ("peep_set", None, Decimal(8)),
        (MODE_FAMILY, None, "ac_vc"),
    ]


def test_a_step_at_the_start_of_the_shift_belongs_to_the_shift_before() -> None:
    assert steps(row(peep_set="8"), since=AT) == []


def test_a_change_of_mode_is_always_listed() -> None:
    found = steps(row("ac_vc"), row("csv_ps", at=later(hours=2)))
    assert found == [(MODE_FAMILY, "ac_vc", "csv_ps")]


def test_an_exchange_of_the_tube_and_a_new_height_are_always_listed() -> None:
    bigger = replace(airway(at=later(hours=1)), size_mm=Decimal("8.0"), act="exchanged")
    facts = replace(
        course(row()),
        airways=(airway(), bigger),
        body_sizes=(body("170"), body("158", at=later(hours=2))),
    )
    found = [(s.key, s.before, s.after) for s in changes_since(facts, AT, POLICY)]
    assert found == [
        (AIRWAY, "ett_oral 7.5", "ett_oral 8.0"),
        (HEIGHT, Decimal(170), Decimal(158)),
    ]


def test_a_measured_value_is_no_change() -> None:
    assert steps(row(spo2="94"), row(at=later(hours=1), spo2="80")) == []
