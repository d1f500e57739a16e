"""A correction: a new version with its reason, the old one readable, everything recomputed."""

import pytest

from app.actions.correct_reading import (
    Correction,
    CorrectionHeldUp,
    NothingCorrected,
    correct_reading,
)
from app.actions.give_reason import ReasonRefused
from app.actions.strike_assessment import strike_assessment
from app.charting.correcting import Retyped
from app.charting.facts import Mark, State
from app.record.errors import Conflict, NotFound
from tests.actions.scene import Shift


def correct(shift: Shift, name: str, reading_id: str, text: str = "", **more) -> None:
    why = more.pop("why", "typed the wrong line")
    with shift.writing(name) as writing:
        correction = Correction(reading_id, Retyped(text, **more), why)
        correct_reading(writing, shift.ward.courses["L3"], correction)


@pytest.fixture
def row(shift: Shift) -> str:
    return shift.chart("ash")


def test_the_new_value_stands_with_who_when_and_why(shift: Shift, row: str) -> None:
    before = shift.reading(row, "spo2")
    shift.clock.forward(minutes=40)
    correct(shift, "birch", before.id, "90")
    now = shift.reading(row, "spo2")
    assert (now.number, now.author, now.why) == (90, "Birch", "typed the wrong line")
    assert (now.recorded_at, now.observed_at) == (shift.clock(), before.observed_at)


def test_the_old_value_stays_readable(shift: Shift, row: str) -> None:
    before = shift.reading(row, "spo2")
    correct(shift, "birch", before.id, "90")
    assert shift.reading(row, "spo2").corrected_from == before


def test_a_correction_of_a_correction_keeps_both(shift: Shift, row: str) -> None:
    correct(shift, "birch", shift.reading(row, "spo2").id, "90")
    correct(shift, "ash", shift.reading(row, "spo2").id, "92")
    newest = shift.reading(row, "spo2")
    assert (newest.number, newest.corrected_from.number) == (92, 90)
    assert newest.corrected_from.corrected_from.number == 94


def test_the_board_follows_and_says_so(shift: Shift, row: str) -> None:
    assert shift.summary().cells["driving_pressure"].text == "14"
    correct(shift, "ash", shift.reading(row, "plateau_pressure_obs").id, "28")
    cell = shift.summary().cells["driving_pressure"]
    assert (cell.text, cell.corrected) == ("16", True)


def test_a_flag_that_stands_on_it_says_so(shift: Shift, row: str) -> None:
    correct(shift, "ash", shift.reading(row, "plateau_pressure_obs").id, "28")
    told = {entry.key: entry for entry in shift.summary().statements}
    assert told["driving_pressure"].corrected
    assert not told["cuff_pressure_cmh2o"].corrected


def test_the_record_holds_what_was_worked_out(shift: Shift, row: str) -> None:
    correct(shift, "ash", shift.reading(row, "plateau_pressure_obs").id, "28")
    assert shift.differences() == []


def test_a_value_can_turn_out_not_to_have_been_measured(shift: Shift, row: str) -> None:
    reading = shift.reading(row, "plateau_pressure_obs")
    correct(shift, "ash", reading.id, not_measured="effort")
    now = shift.reading(row, "plateau_pressure_obs")
    assert (now.state, now.reason, now.why) == (
        State.NOT_MEASURED,
        "effort",
        "typed the wrong line",
    )
    assert shift.summary().cells["driving_pressure"].text == ""


@pytest.mark.parametrize("why", ["", "   ", "oop", "  o o "])
def test_without_a_reason_nothing_is_corrected(shift: Shift, row: str, why: str) -> None:
    with pytest.raises(ReasonRefused):
        correct(shift, "ash", shift.reading(row, "spo2").id, "90", why=why)
    assert shift.reading(row, "spo2").number == 94


@pytest.mark.parametrize("why", ["slip", "x" * 200])
def test_four_characters_are_a_reason(shift: Shift, row: str, why: str) -> None:
    correct(shift, "ash", shift.reading(row, "spo2").id, "90", why=why)
    assert shift.reading(row, "spo2").why == why


def test_a_reason_that_fills_the_page_is_refused(shift: Shift, row: str) -> None:
    with pytest.raises(ReasonRefused):
        correct(shift, "ash", shift.reading(row, "spo2").id, "90", why="x" * 201)


def test_a_value_out_of_range_is_refused_as_it_is_on_the_form(shift: Shift, row: str) -> None:
    with pytest.raises(CorrectionHeldUp) as held:
        correct(shift, "ash", shift.reading(row, "peep_set").id, "100")
    assert [o.kind for o in held.value.objections] == ["refused"]


def test_what_looks_mistyped_is_asked_and_kept_with_its_answer(shift: Shift, row: str) -> None:
    reading = shift.reading(row, "fio2_set")
    with pytest.raises(CorrectionHeldUp) as held:
        correct(shift, "ash", reading.id, "1")
    keys = frozenset(o.key for o in held.value.objections)
    correct(shift, "ash", reading.id, "1", accepted=keys)
    now = shift.reading(row, "fio2_set")
    assert (now.number, now.marks) == (100, (Mark.ASKED,))


def test_what_contradicts_the_rest_of_its_row_is_asked(shift: Shift, row: str) -> None:
    reading = shift.reading(row, "plateau_pressure_obs")
    with pytest.raises(CorrectionHeldUp) as held:
        correct(shift, "ash", reading.id, "34.5")
    (objection,) = held.value.objections
    correct(shift, "ash", reading.id, "34.5", accepted=frozenset({objection.key}))
    assert objection.sentence in shift.reading(row, "plateau_pressure_obs").question


@pytest.mark.parametrize("text", ["94", "94 %", "  94  ", "", "   "])
def test_what_stands_already_is_no_correction(shift: Shift, row: str, text: str) -> None:
    with pytest.raises(NothingCorrected):
        correct(shift, "ash", shift.reading(row, "spo2").id, text)


def test_a_version_that_was_corrected_meanwhile_is_not_corrected_twice(
    shift: Shift, row: str
) -> None:
    reading = shift.reading(row, "spo2")
    correct(shift, "birch", reading.id, "90")
    with pytest.raises(Conflict):
        correct(shift, "ash", reading.id, "91")
    assert shift.reading(row, "spo2").number == 90


def test_a_struck_row_is_not_corrected(shift: Shift, row: str) -> None:
    reading = shift.reading(row, "spo2")
    with shift.writing("ash") as writing:
        strike_assessment(writing, shift.ward.courses["L3"], row, "wrong bed")
    with pytest.raises(Conflict):
        correct(shift, "ash", reading.id, "90")


def test_a_value_of_another_course_is_not_found(shift: Shift, row: str) -> None:
    other = shift.reading(shift.chart("ash", "L5"), "spo2", "L5")
    with pytest.raises(NotFound):
        correct(shift, "ash", other.id, "90")


def test_the_audit_names_the_field_and_no_value(shift: Shift, row: str) -> None:
    from app.record.audit import chain

    correct(shift, "birch", shift.reading(row, "spo2").id, "90")
    with shift.database.reading() as session:
        line = list(chain(session))[-1]
    assert (line["act"], line["detail"]) == ("correct_reading", '{"field":"spo2"}')
    assert line["staff_id"] == shift.ward.staff["birch"]
