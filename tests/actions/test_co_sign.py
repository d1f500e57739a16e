"""A student's draft counts for nothing until somebody else has signed beside it."""

import pytest

from app.actions.co_sign import AlreadySigned, OwnDraft, SignatureHeldUp, co_sign
from app.charting.drafted import drafts_of, fingerprint
from app.record.audit import chain
from app.record.errors import Conflict, NotFound
from app.record.tables import CoSignatureRow, table_of
from app.record.unsigned import unsigned_drafts
from tests.actions.scene import Shift


def draft(shift: Shift, name: str = "fern", **typed: str | None) -> str:
    return shift.chart(name, signed=False, **typed)


def sign(shift: Shift, row: str, name: str = "ash", bed: str = "L3", **more) -> None:
    seen = more.pop("seen", None) or fingerprint(shift.row(row, bed))
    with shift.writing(name) as writing:
        co_sign(writing, shift.ward.courses[bed], row, seen=seen, **more)


def listed(shift: Shift, author: str | None = None) -> list[str]:
    with shift.database.reading() as session:
        found = unsigned_drafts(session, shift.ward.unit_id, author)
    return [entry.assessment_id for entry in found]


def test_a_draft_is_no_fact_and_is_counted_and_listed(shift: Shift) -> None:
    row = draft(shift)
    facts = shift.facts()
    assert (facts.standing, facts.latest_readings()) == ((), {})
    assert [entry.id for entry in drafts_of(facts)] == listed(shift) == [row]
    summary = shift.summary()
    assert (summary.drafts, summary.last_check_at, summary.cells["vt_per_pbw"].text) == (
        1,
        None,
        "",
    )


def test_a_draft_moves_no_due_time(shift: Shift) -> None:
    shift.chart("ash")
    due = shift.summary().due
    shift.clock.forward(hours=3)
    draft(shift)
    assert shift.summary().due == due


def test_a_signature_makes_it_a_fact_with_both_names(shift: Shift) -> None:
    row = draft(shift)
    shift.clock.forward(minutes=20)
    sign(shift, row)
    fact = shift.row(row)
    assert (fact.counts, fact.author, fact.co_signed_by) == (True, "Fern", "Ash")
    assert fact.co_signed_at == shift.clock.now
    assert (shift.summary().drafts, shift.summary().cells["vt_per_pbw"].text) == (0, "8.0")
    assert listed(shift) == []


def test_the_board_is_what_the_record_says_before_and_after(shift: Shift) -> None:
    row = draft(shift)
    assert shift.differences() == []
    sign(shift, row)
    assert shift.differences() == []


@pytest.mark.parametrize("name", ["fern", "ash"])
def test_nobody_signs_beside_themselves(shift: Shift, name: str) -> None:
    row = draft(shift, name)
    with pytest.raises(OwnDraft):
        sign(shift, row, name)
    assert not shift.row(row).signed


def test_a_draft_is_signed_once(shift: Shift) -> None:
    row = draft(shift)
    sign(shift, row)
    with pytest.raises(AlreadySigned):
        sign(shift, row, "birch")
    assert shift.row(row).co_signed_by == "Ash"


def test_what_was_signed_by_its_author_is_no_draft(shift: Shift) -> None:
    row = shift.chart("ash")
    with pytest.raises(AlreadySigned):
        sign(shift, row, "birch")


@pytest.mark.parametrize("row", ["nothing", "of another patient"])
def test_only_a_draft_of_this_patient_can_be_signed(shift: Shift, row: str) -> None:
    other = shift.chart("fern", "L5", signed=False)
    key = other if row == "of another patient" else row
    with pytest.raises(NotFound):
        sign(shift, key, seen="x")
    assert not shift.row(other, "L5").signed


def test_what_changed_since_it_was_seen_is_not_signed(shift: Shift) -> None:
    row = draft(shift)
    with pytest.raises(Conflict):
        sign(shift, row, seen="something else")
    assert not shift.row(row).signed


def test_what_the_author_was_asked_and_answered_is_not_asked_again(shift: Shift) -> None:
    row = draft(shift, fio2_set="1")
    sign(shift, row)
    assert shift.row(row).counts


def test_what_others_charted_meanwhile_may_ask_more_and_the_answer_is_kept(shift: Shift) -> None:
    row = draft(shift, tidal_volume_set="420")
    shift.chart("ash", tidal_volume_set="250", tidal_volume_obs="250", minute_vent_obs="5")
    with pytest.raises(SignatureHeldUp) as held:
        sign(shift, row)
    asked = held.value.read.still_open
    assert asked
    assert {objection.kind for objection in asked} == {"asked"}
    sign(shift, row, accepted=frozenset(objection.key for objection in asked))
    with shift.database.reading() as session:
        words = session.execute(table_of(CoSignatureRow).select()).one().words
    assert all(objection.sentence in words for objection in asked)


def test_a_signature_is_in_the_audit_with_who_and_whose(shift: Shift) -> None:
    row = draft(shift)
    sign(shift, row)
    with shift.database.reading() as session:
        lines = [line for line in chain(session) if line["subject_id"] == row]
    assert [(line["act"], line["staff_id"]) for line in lines] == [
        ("draft_assessment", shift.ward.staff["fern"]),
        ("co_sign", shift.ward.staff["ash"]),
    ]
    assert {line["course_id"] for line in lines} == {shift.ward.courses["L3"]}


def test_a_list_of_one_author_leaves_others_out(shift: Shift) -> None:
    mine, others = draft(shift), draft(shift, "ash")
    assert set(listed(shift)) == {mine, others}
    assert listed(shift, shift.ward.staff["fern"]) == [mine]
