"""Saving on a chart that moved on, in the record: decided, audited, and never twice."""

from datetime import UTC, datetime

import pytest
from msgspec.structs import replace

from app.actions.chart_assessment import HeldUp, chart_assessment
from app.actions.meet_the_chart import ChartMovedOn, Opened
from app.actions.record_view import record_view
from app.charting.check import TypedCheck
from app.charting.facts import Kind
from app.charting.meeting import Choice
from app.record.audit import chain
from app.record.opening import Opening, opening, read_opening
from tests.actions.hammer import hammer
from tests.actions.scene import Shift
from tests.clock import Clock
from tests.processes import FORKED
from tests.ward import open_ward

PROCESSES, SAVES = 4, 50


def seen(shift: Shift) -> Opened:
    with shift.database.reading() as session:
        return Opened(opening(session))


def save(shift: Shift, name: str, opened: Opened, **typed: str) -> str:
    """A brief check by somebody whose form was opened then."""
    check = TypedCheck(Kind.BRIEF, shift.clock(), "ac_vc", typed=typed)
    try:
        with shift.writing(name) as writing:
            course = shift.ward.courses["L3"]
            return chart_assessment(writing, course, check, opened=opened).assessment_id
    except HeldUp as held:
        check = replace(check, accepted=frozenset(o.key for o in held.read.objections))
        with shift.writing(name) as writing:
            return chart_assessment(writing, course, check, opened=opened).assessment_id


def test_nothing_is_saved_while_a_difference_is_open(shift: Shift) -> None:
    opened = seen(shift)
    save(shift, "ash", opened, peep_set="12")
    with pytest.raises(ChartMovedOn) as moved:
        save(shift, "birch", opened, peep_set="10", resp_rate_obs="24")
    assert [said.field for each in moved.value.differences for said in each.mine] == ["peep_set"]
    assert len(shift.facts().assessments) == 1


def test_what_was_decided_stands_in_the_audit_without_a_value(shift: Shift) -> None:
    opened = seen(shift)
    save(shift, "ash", opened, peep_set="12")
    with pytest.raises(ChartMovedOn) as moved:
        save(shift, "birch", opened, peep_set="10", resp_rate_obs="24")
    choices = {each.key: Choice.THEIRS.value for each in moved.value.differences}
    row = save(shift, "birch", replace(opened, choices=choices), peep_set="10", resp_rate_obs="24")
    with shift.database.reading() as session:
        told = [line for line in chain(session) if line["act"] == "settle_differences"]
    assert [line["detail"] for line in told] == ['{"mine":[],"theirs":["peep_set"]}']
    assert set(shift.row(row).readings) == {"resp_rate_obs"}
    assert shift.differences() == []


def test_a_look_moves_no_chart(shift: Shift) -> None:
    opened = seen(shift)
    with shift.writing("ash") as writing:
        record_view(writing, shift.ward.courses["L3"])
    save(shift, "birch", opened, peep_set="10")
    assert len(shift.facts().assessments) == 1


def test_another_patients_row_moves_no_chart(shift: Shift) -> None:
    opened = seen(shift)
    shift.chart("ash", "L5")
    save(shift, "birch", opened, peep_set="10")
    assert len(shift.facts().assessments) == 1


@pytest.mark.parametrize("text", ["", "x", "12", "-1-5", "1-", "999999999-1", "1-1; DROP", "１-１"])
def test_a_form_that_names_no_place_has_seen_nothing(text: str) -> None:
    now = datetime(2026, 3, 2, 8, tzinfo=UTC)
    assert read_opening(text, now) == Opening(0, now)


def test_a_place_is_read_back_as_it_was_named(shift: Shift) -> None:
    at = seen(shift).at
    assert read_opening(at.text, shift.clock()) == at


def test_a_place_never_lies_ahead(shift: Shift) -> None:
    assert read_opening("5-99999999999999", shift.clock()).at == shift.clock()


def test_four_at_one_bed_contradict_each_other_and_every_reading_stands_once(database) -> None:
    clock = Clock(datetime.now(UTC))
    shift = Shift(database, clock, open_ward(database, clock))
    url = database.url.render_as_string(hide_password=False)
    course, names = shift.ward.courses["L3"], ("ash", "birch", "cedar", "ash")
    work = [
        (url, shift.ward.staff[name], course, shift.clock(), SAVES, seed)
        for seed, name in enumerate(names[:PROCESSES])
    ]
    with FORKED.Pool(PROCESSES) as pool:
        accepted = [one for some in pool.starmap(hammer, work) for one in some]
    rows = {row.id: row for row in shift.facts().assessments}
    assert len(accepted) == PROCESSES * SAVES
    assert {one.assessment_id for one in accepted} == rows.keys()
    assert len(rows) == len(accepted)
    for one in accepted:
        kept = {code: reading.raw for code, reading in rows[one.assessment_id].readings.items()}
        assert len(kept) == one.readings
        assert kept.items() <= one.typed.items()
        assert one.typed.keys() - one.left <= kept.keys()
    assert sum(1 for one in accepted if one.asked) > len(accepted) / 2
    assert shift.differences() == []
