"""After an update the board says what this version makes of the record, and the record stays."""

from app.actions.rebuild_summaries import rebuild_summaries
from app.record.summaries import store_summary
from tests.actions.scene import Shift


def test_a_line_of_an_older_version_is_made_anew(shift: Shift):
    shift.chart("ash", plateau_pressure_obs="34", peak_inspiratory_pressure_obs="40")
    course = shift.ward.courses["L3"]
    with shift.writing("ash") as writing:
        store_summary(writing, course, shift.ward.unit_id, "{}", None)
        writing.audit("spoil_a_line")
    assert rebuild_summaries(shift.database, shift.clock) == 1
    flags = shift.summary().flags_at(shift.clock())
    assert [group.group for group in flags] == ["mechanics"]
    assert shift.differences() == []


def test_where_every_line_is_right_nothing_is_written(shift: Shift):
    shift.chart("ash")
    assert rebuild_summaries(shift.database, shift.clock) == 0
