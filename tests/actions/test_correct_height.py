"""A corrected height: a new version, and every row of the course follows it."""

from decimal import Decimal

import pytest

from app.actions.correct_height import HeightTyped, correct_height
from app.actions.correct_reading import CorrectionHeldUp, NothingCorrected
from app.actions.give_reason import ReasonRefused
from app.charting.corrected import as_first_worked_out
from app.charting.site_figures import ANYWHERE
from app.record.errors import Conflict
from tests.actions.scene import Shift

MEASURED = {"height": "158", "method": "supine_tape", "sex": "F", "why": "measured with a tape"}


def correct(shift: Shift, bed: str = "L3", name: str = "birch", **typed) -> None:
    seen = typed.pop("seen", None)
    shown = shift.facts(bed).body_sizes[-1].id if seen is None else seen
    with shift.writing(name) as writing:
        correct_height(
            writing, shift.ward.courses[bed], HeightTyped(**{**MEASURED, **typed}, seen=shown)
        )


def test_the_new_height_stands_with_method_reason_and_the_one_before(shift: Shift) -> None:
    correct(shift)
    (size,) = shift.facts().body_sizes
    assert (size.height_cm, size.height_method, size.author) == (158, "supine_tape", "Birch")
    assert size.why == "measured with a tape"
    assert size.corrected_from.height_cm == 160


def test_rows_written_before_are_worked_out_again_and_what_they_said_is_known(
    shift: Shift,
) -> None:
    row = shift.chart("ash")
    shift.clock.forward(hours=12)
    correct(shift)
    assert shift.summary().cells["vt_per_pbw"].text == "8.3"
    assert shift.summary().cells["vt_per_pbw"].corrected
    worked, then = as_first_worked_out(shift.facts(), "vt_per_pbw", ANYWHERE)[row]
    assert (worked.answer.shown, then.height_cm) == ("8.0", 160)


def test_rows_written_after_are_no_corrections(shift: Shift) -> None:
    shift.chart("ash")
    shift.clock.forward(hours=12)
    correct(shift)
    row = shift.chart("ash")
    assert not shift.summary().cells["vt_per_pbw"].corrected
    assert row not in as_first_worked_out(shift.facts(), "vt_per_pbw", ANYWHERE)


def test_a_first_height_needs_no_reason_and_corrects_nothing(shift: Shift) -> None:
    shift.chart("ash", "L6")
    correct(shift, "L6", why="")
    cell = shift.summary("L6").cells["vt_per_pbw"]
    assert (cell.text, cell.corrected) == ("8.3", False)


def test_another_height_needs_a_reason(shift: Shift) -> None:
    with pytest.raises(ReasonRefused):
        correct(shift, why="")


@pytest.mark.parametrize(
    ("typed", "field"),
    [({"height": ""}, "height_cm"), ({"method": ""}, "height_method"), ({"sex": ""}, "pbw_sex")],
)
def test_what_is_missing_is_named(shift: Shift, typed: dict[str, str], field: str) -> None:
    with pytest.raises(CorrectionHeldUp) as held:
        correct(shift, **typed)
    assert [objection.field for objection in held.value.objections] == [field]


def test_an_unusual_height_is_asked(shift: Shift) -> None:
    with pytest.raises(CorrectionHeldUp) as held:
        correct(shift, height="120")
    keys = frozenset(objection.key for objection in held.value.objections)
    correct(shift, height="120", accepted=keys)
    assert shift.facts().body_sizes[-1].height_cm == 120


def test_inches_are_read_as_such(shift: Shift) -> None:
    correct(shift, height="62 in")
    assert shift.facts().body_sizes[-1].height_cm == Decimal("157.48")


def test_what_stands_already_is_no_correction(shift: Shift) -> None:
    with pytest.raises(NothingCorrected):
        correct(shift, height="160")


def test_a_height_that_was_corrected_meanwhile_is_looked_at_first(shift: Shift) -> None:
    seen = shift.facts().body_sizes[-1].id
    correct(shift, seen=seen)
    with pytest.raises(Conflict):
        correct(shift, height="162", seen=seen)


def test_the_record_holds_what_was_worked_out(shift: Shift) -> None:
    shift.chart("ash")
    correct(shift)
    assert shift.differences() == []
