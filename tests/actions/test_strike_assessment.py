"""A strike: the row stays readable, with who, when and why, and no number stands on it."""

import pytest

from app.actions.give_reason import ReasonRefused
from app.actions.strike_assessment import strike_assessment
from app.record.errors import Conflict, NotFound
from tests.actions.scene import Shift


def strike(shift: Shift, name: str, row: str, reason: str = "charted on the wrong bed") -> None:
    with shift.writing(name) as writing:
        strike_assessment(writing, shift.ward.courses["L3"], row, reason)


def test_a_struck_row_keeps_its_values_and_says_who_when_and_why(shift: Shift) -> None:
    row = shift.chart("ash")
    shift.clock.forward(hours=2)
    strike(shift, "birch", row)
    struck = shift.row(row)
    assert (struck.struck, struck.struck_by) == ("charted on the wrong bed", "Birch")
    assert struck.struck_at == shift.clock()
    assert struck.readings["spo2"].number == 94
    assert not struck.counts


def test_the_board_goes_back_to_what_stood_before(shift: Shift) -> None:
    shift.chart("ash", plateau_pressure_obs="24")
    shift.clock.forward(hours=1)
    row = shift.chart("ash", plateau_pressure_obs="28")
    assert shift.summary().cells["driving_pressure"].text == "16"
    strike(shift, "ash", row)
    assert shift.summary().cells["driving_pressure"].text == "12"
    assert shift.differences() == []


def test_a_course_whose_only_row_is_struck_is_not_charted(shift: Shift) -> None:
    strike(shift, "ash", shift.chart("ash"))
    assert shift.summary().last_check_at is None
    assert "spo2" not in shift.summary().cells


def test_a_row_is_struck_once(shift: Shift) -> None:
    row = shift.chart("ash")
    strike(shift, "ash", row)
    with pytest.raises(Conflict):
        strike(shift, "birch", row)


def test_without_a_reason_nothing_is_struck(shift: Shift) -> None:
    row = shift.chart("ash")
    with pytest.raises(ReasonRefused):
        strike(shift, "ash", row, "no")
    assert shift.row(row).counts


def test_a_row_of_another_course_is_not_found(shift: Shift) -> None:
    with pytest.raises(NotFound):
        strike(shift, "ash", shift.chart("ash", "L5"))


def test_what_a_struck_row_said_of_the_gear_is_taken_back(shift: Shift) -> None:
    row = shift.chart("ash", safe_suction="no")
    assert [task.rule for task in shift.facts().tasks if task.is_open] == ["safe_suction"]
    strike(shift, "ash", row)
    assert [task.rule for task in shift.facts().tasks if task.is_open] == []


def test_another_rows_no_keeps_its_task_and_a_struck_yes_opens_it_again(shift: Shift) -> None:
    shift.chart("ash", safe_suction="no")
    shift.clock.forward(hours=1)
    again = shift.chart("ash", safe_suction="no")
    strike(shift, "ash", again)
    shift.clock.forward(hours=1)
    ready = shift.chart("ash", safe_suction="yes")
    strike(shift, "ash", ready)
    assert [task.rule for task in shift.facts().tasks if task.is_open] == ["safe_suction"]
