"""A row on the wrong patient: struck there, charted here at its own time, and nobody is named."""

import pytest

from app.actions.chart_assessment import HeldUp
from app.actions.chart_on_right_patient import NotWhoSawIt, chart_on_right_patient
from app.actions.strike_assessment import ANOTHER_PATIENTS
from app.charting.correcting import ANOTHER_CHART
from app.charting.facts import State
from app.record.errors import Conflict
from tests.actions.scene import Shift


def move(shift: Shift, name: str, row: str, to: str = "L5", accepted: frozenset[str] = frozenset()):
    with shift.writing(name) as writing:
        return chart_on_right_patient(
            writing, shift.ward.courses["L3"], row, shift.ward.courses[to], accepted
        )


def moved_with_every_answer(shift: Shift, row: str, to: str = "L5") -> str:
    try:
        return move(shift, "ash", row, to).assessment_id
    except HeldUp as held:
        keys = frozenset(objection.key for objection in held.read.objections)
        return move(shift, "ash", row, to, keys).assessment_id


def test_the_row_is_struck_here_and_stands_there_at_its_own_time(shift: Shift) -> None:
    row = shift.chart("ash")
    observed = shift.clock()
    shift.clock.forward(hours=2)
    again = shift.row(moved_with_every_answer(shift, row), "L5")
    assert shift.row(row).struck == ANOTHER_PATIENTS
    assert (again.observed_at, again.recorded_at) == (observed, shift.clock())
    assert (again.author, again.source) == ("Ash", ANOTHER_CHART)


def test_every_text_is_charted_again_as_it_was_typed(shift: Shift) -> None:
    row = shift.chart("ash", fio2_set="0.45", spo2=None)
    again = shift.row(moved_with_every_answer(shift, row), "L5")
    first = shift.row(row)
    assert {c: r.raw for c, r in again.readings.items()} == {
        c: r.raw for c, r in first.readings.items()
    }
    assert {c: r.number for c, r in again.readings.items()} == {
        c: r.number for c, r in first.readings.items()
    }


def test_what_was_confirmed_there_is_typed_here(shift: Shift) -> None:
    shift.chart("ash")
    shift.clock.forward(hours=4)
    row = shift.chart("ash")
    assert shift.reading(row, "peep_set").state is State.CONFIRMED
    again = moved_with_every_answer(shift, row)
    assert shift.reading(again, "peep_set", "L5").state is State.MEASURED


def test_both_boards_follow_and_the_record_is_whole(shift: Shift) -> None:
    row = shift.chart("ash", plateau_pressure_obs="28")
    moved_with_every_answer(shift, row)
    assert "driving_pressure" not in {
        key for key, cell in shift.summary("L3").cells.items() if cell.text
    }
    assert shift.summary("L5").cells["driving_pressure"].text == "16"
    assert shift.differences() == []


def test_a_question_about_this_patient_holds_up_both_charts(shift: Shift) -> None:
    shift.chart("ash", "L5", tidal_volume_obs="300", tidal_volume_set="300", minute_vent_obs="6")
    shift.clock.forward(minutes=30)
    row = shift.chart("ash")
    with pytest.raises(HeldUp):
        move(shift, "ash", row)
    assert shift.row(row).counts
    assert len(shift.facts("L5").assessments) == 1


def test_only_who_saw_the_numbers_charts_them_again(shift: Shift) -> None:
    row = shift.chart("ash")
    with pytest.raises(NotWhoSawIt):
        move(shift, "birch", row)
    assert shift.row(row).counts


def test_a_row_moves_once(shift: Shift) -> None:
    row = shift.chart("ash")
    moved_with_every_answer(shift, row)
    with pytest.raises(Conflict):
        move(shift, "ash", row)


def test_a_row_does_not_move_to_where_it_is(shift: Shift) -> None:
    with pytest.raises(Conflict):
        move(shift, "ash", shift.chart("ash"), "L3")
