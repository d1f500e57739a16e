"""A draft that was wrong is struck: by its author, or by who may correct the chart."""

import pytest

from app.actions.co_sign import AlreadySigned, co_sign
from app.actions.give_reason import ReasonRefused
from app.actions.strike_draft import AnothersDraft, strike_draft
from app.charting.drafted import fingerprint
from app.record.errors import Conflict
from app.record.unsigned import unsigned_drafts
from tests.actions.scene import Shift

WHY = "read off the wrong screen"


def strike(shift: Shift, row: str, name: str = "fern", why: str = WHY, **more: bool) -> None:
    may = {"anybodys": name != "fern", **more}
    with shift.writing(name) as writing:
        strike_draft(writing, shift.ward.courses["L3"], row, why, **may)


def test_its_author_strikes_a_draft_and_it_stays_readable(shift: Shift) -> None:
    row = shift.chart("fern", signed=False)
    strike(shift, row)
    struck = shift.row(row)
    assert (struck.struck, struck.struck_by, struck.signed) == (WHY, "Fern", False)
    assert struck.readings["spo2"].number == 94


def test_a_struck_draft_is_counted_and_listed_no_more(shift: Shift) -> None:
    row = shift.chart("fern", signed=False)
    strike(shift, row)
    with shift.database.reading() as session:
        assert unsigned_drafts(session, shift.ward.unit_id) == ()
    assert shift.summary().drafts == 0
    assert shift.differences() == []


def test_a_therapist_strikes_a_students_draft(shift: Shift) -> None:
    row = shift.chart("fern", signed=False)
    strike(shift, row, "ash")
    assert shift.row(row).struck_by == "Ash"


def test_nobody_strikes_anothers_draft_without_the_right_to(shift: Shift) -> None:
    row = shift.chart("ash", signed=False)
    with pytest.raises(AnothersDraft):
        strike(shift, row)
    assert not shift.row(row).struck


def test_a_draft_is_struck_for_a_reason(shift: Shift) -> None:
    row = shift.chart("fern", signed=False)
    with pytest.raises(ReasonRefused):
        strike(shift, row, why=" ")
    assert not shift.row(row).struck


def test_what_was_signed_meanwhile_is_not_struck_as_a_draft(shift: Shift) -> None:
    row = shift.chart("fern", signed=False)
    with shift.writing("ash") as writing:
        seen = fingerprint(shift.row(row))
        co_sign(writing, shift.ward.courses["L3"], row, seen=seen)
    with pytest.raises(AlreadySigned):
        strike(shift, row)


def test_what_is_struck_can_be_neither_struck_again_nor_signed(shift: Shift) -> None:
    row = shift.chart("fern", signed=False)
    seen = fingerprint(shift.row(row))
    strike(shift, row)
    with pytest.raises(Conflict):
        strike(shift, row)
    with pytest.raises(Conflict), shift.writing("ash") as writing:
        co_sign(writing, shift.ward.courses["L3"], row, seen=seen)
