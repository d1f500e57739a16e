"""What is due at a bed: in order, from facts alone, with its age, paused while away."""

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from app.charting.event_facts import Event
from app.charting.facts import Kind
from app.charting.handing_over import Source, Task, TaskState
from app.rules.bed_summary import BedSummary, summarise
from app.rules.policy import starting_policy
from app.rules.unit_clock import UnitClock
from tests.charting.rows import AT, course, gas, later, row

POLICY = starting_policy()
LARCH = UnitClock("America/New_York")
CHECK = {
    "fio2_set": "45",
    "peep_set": "8",
    "resp_rate_set": "18",
    "tidal_volume_set": "420",
    "tidal_volume_obs": "420",
    "plateau_pressure_obs": "20",
    "hold_passive": "yes",
    "peep_total": "8",
    "spo2": "94",
    "cuff_pressure_cmh2o": "26",
}
MINUTE = timedelta(minutes=1)


def of(*rows, events=(), **more) -> BedSummary:
    facts = course(*rows, events=events)
    return summarise(replace(facts, **more), POLICY, LARCH)


def kinds(summary: BedSummary) -> list[str]:
    return [item.kind for item in summary.due_items]


def item(summary: BedSummary, kind: str):
    return next(each for each in summary.due_items if each.kind == kind)


def event(kind: str, begun: float, ended: float | None = None) -> Event:
    until = None if ended is None else later(hours=ended)
    return Event(kind, kind, later(hours=begun), until, kind, "ash")


def task(due_in_h: float | None, state: TaskState = TaskState.OPEN) -> Task:
    due_at = None if due_in_h is None else later(hours=due_in_h)
    return Task("t", "t", "chest film", due_at, "", Source.PERSON, state, "", "ash", "ash", AT)


def test_a_plain_check_leaves_the_round_the_plateau_and_the_cuff():
    summary = of(row(**CHECK))
    assert sorted(kinds(summary)) == ["check", "cuff", "plateau", "trial_screen"]
    assert item(summary, "plateau").due_at == later(hours=6)
    assert item(summary, "cuff").due_at == later(hours=12)


@pytest.mark.parametrize(
    ("minutes", "state"),
    [(0, "due"), (59, "due"), (60, "late"), (119, "late"), (120, "overdue"), (6000, "overdue")],
)
def test_a_round_is_late_after_60_and_overdue_after_120_minutes(minutes, state):
    check = item(of(row(**CHECK)), "check")
    assert check.state(check.due_at + minutes * MINUTE) == state


def test_a_value_outside_once_is_read_again_within_30_minutes():
    again = item(of(row(**{**CHECK, "plateau_pressure_obs": "24"})), "read_again")
    assert (again.what, again.due_at) == ("driving_pressure", AT + 30 * MINUTE)
    assert [again.state(again.due_at + m * MINUTE) for m in (14, 15, 29, 30)] == [
        "due",
        "late",
        "late",
        "overdue",
    ]


def test_the_next_value_ends_the_second_look():
    rows = row(**{**CHECK, "plateau_pressure_obs": "24"}), row(at=later(hours=1), **CHECK)
    assert "read_again" not in kinds(of(*rows))


@pytest.mark.parametrize(
    ("changed", "asked"),
    [
        ({"peep_set": "10"}, False),
        ({"peep_set": "11"}, True),
        ({"peep_set": "0"}, True),
        ({"resp_rate_set": "21"}, False),
        ({"resp_rate_set": "22"}, True),
        ({"fio2_set": "80"}, False),
    ],
)
def test_a_change_of_the_breath_asks_for_a_look_and_a_gas(changed, asked):
    rows = row(**CHECK), row(at=later(hours=1), **{**CHECK, **changed})
    found = set(kinds(of(*rows)))
    assert ({"gas", "after_change"} <= found) is asked


def test_a_gas_and_a_look_after_the_change_answer_it():
    change = row(at=later(hours=1), **{**CHECK, "peep_set": "12"})
    looked = row(kind=Kind.BRIEF, at=later(hours=1.5), spo2="95")
    sampled = gas(at=later(hours=1.4), ph="7.4", paco2="40", pao2="80")
    assert not {"gas", "after_change"} & set(kinds(of(row(**CHECK), change, looked, sampled)))


def test_a_plateau_is_owed_in_a_controlled_mode_only():
    support = row("csv_ps", at=later(hours=4), fio2_set="40", peep_set="8", spo2="95")
    assert "plateau" not in kinds(of(row(**CHECK), support))


def test_prone_is_due_to_end_after_16_hours():
    assert item(of(row(**CHECK), events=(event("prone", 1),)), "prone").due_at == later(hours=17)
    assert "prone" not in kinds(of(row(**CHECK), events=(event("prone", 1, 2),)))


def test_away_pauses_everything_and_says_so_after_two_hours_without_a_word():
    summary = of(row(**CHECK), events=(event("away", 1),))
    late = later(hours=30)
    assert {each.state(late, summary.away) for each in summary.due_items} == {"paused"}
    assert summary.away.no_word_at() == later(hours=3)


def test_what_fell_due_while_away_is_due_at_the_return_with_a_full_check():
    back = event("away", 1, 30)
    summary = of(row(**CHECK), events=(back,))
    assert item(summary, "check").due_at == back.ended_at == item(summary, "return").due_at
    assert summary.due.overdue_at == back.ended_at + timedelta(hours=2)
    checked = of(row(**CHECK), row(at=later(hours=31), **CHECK), events=(back,))
    assert "return" not in kinds(checked)


@pytest.mark.parametrize(
    ("one", "listed"),
    [
        (task(2), True),
        (task(None), False),
        (task(2, TaskState.MOVED), True),
        (task(2, TaskState.DONE), False),
        (task(2, TaskState.NOT_DONE), False),
    ],
)
def test_open_tasks_with_a_time_are_due(one, listed):
    assert ("task" in kinds(of(row(**CHECK), tasks=(one,)))) is listed


def test_a_filter_is_due_two_days_after_its_date():
    values = {**CHECK, "humidifier": "hme_filter", "filter_changed_on": "2026-03-08"}
    due = item(of(row(**values)), "filter").due_at
    assert LARCH.local(due).date().isoformat() == "2026-03-10"
    heated = {**values, "humidifier": "heated"}
    assert "filter" not in kinds(of(row(**heated)))


def test_nothing_is_due_for_a_course_that_has_ended():
    assert of(row(**CHECK), ended_at=later(hours=1)).due_items == ()


@settings(max_examples=30, deadline=None)
@given(st.permutations(range(4)), st.integers(0, 3))
def test_the_list_is_in_order_and_knows_no_order_of_saving(order, changed_at):
    rows = [
        row(at=later(hours=4 * n), **{**CHECK, "peep_set": "14" if n >= changed_at else "8"})
        for n in range(4)
    ]
    whole = of(*rows).due_items
    assert list(whole) == sorted(whole, key=lambda each: each.due_at)
    assert of(*(rows[n] for n in order)).due_items == whole
