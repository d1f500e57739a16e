"""Writing and reading: one author, one moment, one commit, and nothing half kept."""

import pytest
from sqlalchemy import func, select

from app.record import audit
from app.record.database import Database
from app.record.drafts import Draft, list_drafts, store_draft
from app.record.errors import Conflict, NotAudited, NotReadable, Unstorable
from app.record.tables import (
    AuditLineRow,
    CoSignatureRow,
    EventRow,
    HandoffNoteRow,
    PatientRow,
    table_of,
)
from tests.record.scene import reading


def count(scene, kind) -> int:
    with scene.database.reading() as session:
        return session.execute(select(func.count()).select_from(table_of(kind))).scalar_one()


def note(scene, words="stiff") -> HandoffNoteRow:
    return HandoffNoteRow(
        course_id=scene.course, heading="worry", words=words, observed_at=scene.clock()
    )


def write_and_fail(scene) -> None:
    with scene.writing() as writing:
        writing.add(note(scene))
        writing.audit("note")
        raise ZeroDivisionError


def write_past_the_audit(scene) -> None:
    with scene.writing() as writing:
        writing.session.add(note(scene))
        writing.audit("note")


def test_a_write_fills_in_key_author_moment_and_offset(scene):
    scene.clock.forward(minutes=1)
    with scene.writing() as writing:
        row = PatientRow()
        writing.add(row)
        writing.audit("admit", subject=row)
    assert (row.author_id, row.recorded_at) == (scene.therapist, scene.clock())
    assert len(row.id) == 32
    assert row.zone_offset_min == 60


@pytest.mark.parametrize(("month", "minutes"), [(1, 60), (7, 120)])
def test_the_offset_is_the_zones_at_the_observed_time(scene, month, minutes):
    row = note(scene)
    row.observed_at = scene.clock().replace(month=month)
    with scene.writing() as writing:
        writing.add(row)
        writing.audit("note")
    assert row.zone_offset_min == minutes


def test_a_write_of_no_unit_keeps_no_offset(scene):
    with scene.writing(zone=None) as writing:
        writing.add(row := PatientRow())
        writing.audit("admit")
    assert row.zone_offset_min is None


def test_a_write_without_an_audit_line_is_refused_and_leaves_nothing(scene):
    with pytest.raises(NotAudited), scene.writing() as writing:
        writing.add(note(scene))
    assert count(scene, HandoffNoteRow) == 0


def test_an_exception_rolls_everything_back(scene):
    lines = count(scene, AuditLineRow)
    with pytest.raises(ZeroDivisionError):
        write_and_fail(scene)
    assert (count(scene, HandoffNoteRow), count(scene, AuditLineRow)) == (0, lines)


def test_after_a_failed_write_the_next_one_goes_through(scene):
    with pytest.raises(NotAudited), scene.writing() as writing:
        writing.add(note(scene))
    scene.write(note(scene))
    assert count(scene, HandoffNoteRow) == 1


def test_an_audit_line_alone_is_a_write(scene):
    lines = count(scene, AuditLineRow)
    with scene.writing() as writing:
        writing.audit("export", detail={"rows": 12})
    assert count(scene, AuditLineRow) == lines + 1


def test_a_record_row_cannot_pass_by_the_audit(scene):
    with pytest.raises(NotAudited):
        write_past_the_audit(scene)
    assert count(scene, HandoffNoteRow) == 0


def test_a_record_row_cannot_be_written_as_working_data(scene):
    with pytest.raises(NotAudited), scene.database.working() as session:
        session.add(note(scene))
    assert count(scene, HandoffNoteRow) == 0


def test_working_data_needs_no_audit_line(scene):
    lines = count(scene, AuditLineRow)
    draft = Draft(scene.course, "full", '{"peep": "8"}', scene.clock())
    with scene.database.working() as session:
        store_draft(session, scene.therapist, draft)
    with scene.database.reading() as session:
        assert list_drafts(session, scene.therapist) == (draft,)
    assert count(scene, AuditLineRow) == lines


def test_a_reader_cannot_write(scene):
    draft = Draft(scene.course, "full", "{}", scene.clock())
    with (
        pytest.raises(NotReadable, match="read-only"),
        scene.database.reading() as session,
    ):
        store_draft(session, scene.therapist, draft)


def test_a_reader_sees_one_moment_while_others_write(scene):
    with scene.database.reading() as session:
        before = audit.tail(session)
        scene.chart(peep="8")
        assert audit.tail(session) == before
    with scene.database.reading() as session:
        assert audit.tail(session).seq == before.seq + 1


def test_a_link_to_nothing_is_a_conflict_that_quotes_no_values(scene):
    with pytest.raises(Conflict) as refused:
        scene.write(CoSignatureRow(course_id=scene.course, assessment_id="no such row"))
    assert "no such row" not in str(refused.value)


def test_one_version_can_be_superseded_once_only(scene):
    first, second, third = note(scene), note(scene, "softer"), note(scene, "stiffer")
    scene.write(first)
    second.supersedes_id = third.supersedes_id = first.id
    scene.write(second)
    with pytest.raises(Conflict):
        scene.write(third)
    assert count(scene, HandoffNoteRow) == 2


def test_a_reading_not_measured_has_no_value(scene):
    assessment = scene.chart(peep="8")
    bad = reading(
        assessment, scene.course, "plateau", scene.clock(), state="not_measured", word="24"
    )
    with pytest.raises(Conflict) as refused:
        scene.write(bad)
    assert "not_measured_has_no_value" in refused.value.why


@pytest.mark.parametrize("words", ["a\x00b", "a\ud800b"])
def test_text_that_only_one_engine_could_keep_is_refused(scene, words):
    with pytest.raises(Unstorable) as refused, scene.writing() as writing:
        writing.add(note(scene, words))
    assert (refused.value.table, refused.value.column) == ("handoff_note", "words")


def test_a_moment_without_offset_is_refused(scene):
    row = note(scene)
    row.observed_at = scene.clock().replace(tzinfo=None)
    with pytest.raises(Unstorable), scene.writing() as writing:
        writing.add(row)


def test_a_clock_set_back_does_not_make_a_newer_row_look_older(scene):
    before = scene.clock()
    scene.clock.forward(hours=-2)
    with scene.writing() as writing:
        writing.add(row := EventRow(course_id=scene.course, kind="prone", observed_at=before))
        writing.audit("event")
    assert row.recorded_at == before
    with scene.database.reading() as session:
        last = list(audit.chain(session))[-1]
    assert last["detail"] == '{"clock_behind_s":7200}'


def test_keys_sort_in_the_order_of_writing_even_when_the_clock_stands(scene):
    with scene.writing() as writing:
        many = [note(scene, str(place)) for place in range(300)]
        writing.add(*many)
        writing.audit("note")
    with scene.writing() as writing:
        writing.add(last := note(scene))
        writing.audit("note")
    keys = [row.id for row in (*many, last)]
    assert keys == sorted(keys)


def test_a_courses_key_tells_nothing_of_when_it_was_made(scene):
    other = scene.admit(None)
    assert scene.course[:12] != other[:12]


def test_the_sequence_is_the_number_of_the_writes_first_line(scene):
    with scene.writing() as writing:
        writing.audit("first")
        writing.audit("second")
        expected = writing.sequence
    with scene.database.reading() as session:
        lines = list(audit.chain(session))[-2:]
    assert [line["seq"] for line in lines] == [expected, expected + 1]


def test_memory_is_no_place_for_a_record():
    with pytest.raises(ValueError, match="has to be a file"):
        Database("sqlite://")


def test_other_engines_are_refused():
    with pytest.raises(ValueError, match="neither"):
        Database("mysql://somewhere/else")
