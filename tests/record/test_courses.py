"""The facts of a course: corrections in place, strikes and signatures applied, nothing lost."""

from datetime import date
from decimal import Decimal

import pytest

from app.charting.facts import Kind, Mark, State, Targets
from app.record.beds import move, settle
from app.record.courses import (
    course_by_source,
    course_facts,
    find_course,
    list_courses,
    patients_by_record_number,
)
from app.record.errors import Conflict, NotFound
from app.record.tables import (
    AirwayRow,
    AssessmentRow,
    AssessmentStrikeRow,
    BodySizeRow,
    CoSignatureRow,
    CourseEndRow,
    CourseRow,
    EventEndRow,
    EventRow,
    HandoffNoteRow,
    PatientDetailsRow,
    TargetRow,
)
from tests.record.scene import reading


def facts(scene, **more):
    with scene.database.reading() as session:
        return course_facts(session, scene.course, **more)


def correct(scene, old, **more):
    """A reading that takes the place of `old`."""
    with scene.database.reading() as session:
        (chart,) = [
            row for row in course_facts(session, scene.course).assessments if old in row.readings
        ]
    newer = reading(
        chart.id, scene.course, old, scene.clock(), supersedes_id=chart.readings[old].id, **more
    )
    scene.write(newer)
    return newer


def test_an_empty_course_has_its_identity_and_nothing_else(scene):
    known = facts(scene)
    assert (known.identity.name, known.identity.record_number) == ("Ada", "R1")
    assert (known.assessments, known.events, known.notes) == ((), (), ())
    assert known.targets == Targets()
    assert [stay.bed for stay in known.bed_stays] == ["1"]


def test_a_reading_comes_back_with_all_that_was_written(scene):
    assessment = scene.chart()
    scene.write(
        reading(
            assessment,
            scene.course,
            "fio2",
            scene.clock(),
            state="confirmed",
            number=Decimal(40),
            raw="0.40",
            unit_typed="fraction",
            marks="asked as_found",
            question="So high?",
        )
    )
    (row,) = facts(scene).assessments
    known = row.readings["fio2"]
    assert (known.state, known.number, known.raw) == (State.CONFIRMED, Decimal(40), "0.40")
    assert known.marks == (Mark.ASKED, Mark.AS_FOUND)
    assert (known.unit_typed, known.question) == ("fraction", "So high?")
    assert (known.author, known.recorded_at) == ("Mira Holt", scene.clock())
    assert (row.kind, row.mode_family, row.author) == (Kind.FULL, "vc", "Mira Holt")


def test_what_was_not_measured_keeps_its_reason(scene):
    assessment = scene.chart()
    scene.write(
        reading(
            assessment, scene.course, "plateau", scene.clock(), state="not_measured", reason="cough"
        )
    )
    known = facts(scene).assessments[0].readings["plateau"]
    assert (known.has_value, known.reason) == (False, "cough")


def test_a_correction_takes_the_place_and_keeps_what_stood_there(scene):
    scene.chart(peep="80")
    correct(scene, "peep", number=Decimal("8.0"), reason="slip")
    known = facts(scene).assessments[0].readings["peep"]
    assert (str(known.number), str(known.corrected_from.number)) == ("8.0", "80")
    assert known.corrected_from.corrected_from is None


def test_a_correction_of_a_correction_keeps_both(scene):
    scene.chart(peep="80")
    correct(scene, "peep", number=Decimal(18))
    correct(scene, "peep", number=Decimal(8))
    known = facts(scene).assessments[0].readings["peep"]
    numbers = [
        known.number,
        known.corrected_from.number,
        known.corrected_from.corrected_from.number,
    ]
    assert numbers == [8, 18, 80]


def test_two_corrections_of_one_version_cannot_both_stand(scene):
    assessment = scene.chart(peep="80")
    first = facts(scene).assessments[0].readings["peep"].id
    correct(scene, "peep", number=Decimal(8))
    late = reading(assessment, scene.course, "peep", scene.clock(), supersedes_id=first)
    with pytest.raises(Conflict):
        scene.write(late)


def test_a_struck_row_stays_readable_and_no_longer_counts(scene):
    assessment = scene.chart(peep="8")
    scene.write(
        AssessmentStrikeRow(
            course_id=scene.course, assessment_id=assessment, reason="wrong patient"
        )
    )
    (row,) = facts(scene).assessments
    assert (row.struck, row.counts, row.readings["peep"].number) == ("wrong patient", False, 8)
    assert facts(scene).standing == ()


def test_a_strike_taken_back_lets_the_row_count_again(scene):
    strike = AssessmentStrikeRow(
        course_id=scene.course, assessment_id=scene.chart(peep="8"), reason="wrong patient"
    )
    scene.write(strike)
    scene.write(
        AssessmentStrikeRow(
            course_id=scene.course,
            assessment_id=strike.assessment_id,
            supersedes_id=strike.id,
            reason="",
        )
    )
    assert facts(scene).assessments[0].counts


def test_a_students_draft_is_no_fact_until_somebody_signs(scene):
    assessment = scene.chart(peep="8", signed=False)
    assert not facts(scene).assessments[0].counts
    scene.write(CoSignatureRow(course_id=scene.course, assessment_id=assessment))
    assert facts(scene).assessments[0].counts


def test_a_corrected_assessment_keeps_its_key_its_author_and_its_readings(scene):
    assessment = scene.chart(peep="8")
    before = scene.clock()
    scene.clock.forward(minutes=20)
    scene.write(
        AssessmentRow(
            supersedes_id=assessment,
            course_id=scene.course,
            kind="brief",
            observed_at=scene.clock(),
            mode_family="ps",
        )
    )
    (row,) = facts(scene).assessments
    assert (row.id, row.kind, row.mode_family) == (assessment, Kind.BRIEF, "ps")
    assert (row.observed_at, row.recorded_at) == (scene.clock(), before)
    assert row.readings["peep"].number == 8


def test_rows_stand_in_the_order_of_what_was_seen_not_of_writing(scene):
    now = scene.clock()
    scene.chart(now, peep="8")
    scene.chart(now.replace(hour=5), peep="5")
    assert [row.readings["peep"].number for row in facts(scene).assessments] == [5, 8]


@pytest.mark.parametrize(("hour", "kept"), [(7, 2), (8, 2), (9, 1), (13, 0)])
def test_since_keeps_what_was_seen_at_that_time_or_later(scene, hour, kept):
    now = scene.clock()
    scene.chart(now, peep="8")
    scene.chart(now.replace(hour=12), peep="9")
    rows = facts(scene, since=now.replace(hour=hour)).assessments
    assert [row.readings["peep"].number for row in rows] == [8, 9][2 - kept :]


def test_since_never_hides_a_state_that_goes_on(scene):
    now = scene.clock()
    over, prone = (
        EventRow(course_id=scene.course, kind=kind, observed_at=now) for kind in ("away", "prone")
    )
    scene.write(over, prone)
    scene.write(EventEndRow(course_id=scene.course, event_id=over.id, ended_at=now.replace(hour=9)))
    assert [event.kind for event in facts(scene).events] == ["away", "prone"]
    assert facts(scene).events[0].ended_at == now.replace(hour=9)
    assert [event.kind for event in facts(scene, since=now.replace(hour=12)).events] == ["prone"]


def test_what_holds_from_a_moment_on_is_given_oldest_first(scene):
    now = scene.clock()
    sizes = [
        BodySizeRow(
            course_id=scene.course,
            observed_at=now.replace(hour=hour),
            height_cm=Decimal(height),
            height_method="stated",
            pbw_sex="female",
        )
        for hour, height in ((9, "171.5"), (8, "170"))
    ]
    tube = AirwayRow(
        course_id=scene.course,
        observed_at=now,
        act="placed",
        category="oral tube",
        size_mm=Decimal("7.5"),
        depth_cm=Decimal(23),
        depth_reference="teeth",
    )
    scene.write(*sizes, tube)
    known = facts(scene)
    assert [str(size.height_cm) for size in known.body_sizes] == ["170", "171.5"]
    assert (str(known.airways[0].size_mm), known.airways[0].author) == ("7.5", "Mira Holt")


def test_the_newest_target_holds(scene):
    for low in ("88", "92"):
        scene.write(
            TargetRow(
                course_id=scene.course,
                spo2_low=Decimal(low),
                spo2_high=Decimal(96),
                ordered_by="Dr Osei",
                ordered_at=scene.clock(),
            )
        )
    known = facts(scene).targets
    assert (known.spo2_low, known.spo2_high, known.ordered_by) == (92, 96, "Dr Osei")
    assert known.tidal_volume_ml_kg is None


def test_every_note_is_kept_and_a_superseded_one_gives_way(scene):
    first = HandoffNoteRow(
        course_id=scene.course, heading="worry", words="stiff", observed_at=scene.clock()
    )
    scene.write(first)
    scene.write(
        HandoffNoteRow(
            course_id=scene.course,
            supersedes_id=first.id,
            heading="worry",
            words="softer",
            observed_at=scene.clock(),
        )
    )
    assert [note.words for note in facts(scene).notes] == ["softer"]


def test_the_newest_details_say_who_the_patient_is(scene):
    patient = facts(scene).identity.patient_id
    scene.write(
        PatientDetailsRow(
            patient_id=patient, name="Ada B", record_number="R2", birth_date=date(1961, 4, 9)
        )
    )
    assert facts(scene).identity.birth_date == date(1961, 4, 9)
    with scene.database.reading() as session:
        assert patients_by_record_number(session, "R2") == (patient,)
        assert patients_by_record_number(session, "R1") == ()


def test_moves_are_stays_from_a_moment_on(scene):
    with scene.writing() as writing:
        move(writing, {scene.course: None}, scene.clock.forward(hours=1))
        writing.audit("move", course_id=scene.course)
    assert [stay.bed for stay in facts(scene).bed_stays] == ["1", None]


def test_an_end_can_be_taken_back(scene):
    end = CourseEndRow(course_id=scene.course, ended_at=scene.clock(), kind="extubated")
    scene.write(end)
    assert (facts(scene).ended_at, facts(scene).end_kind) == (scene.clock(), "extubated")
    scene.write(CourseEndRow(course_id=scene.course, supersedes_id=end.id))
    assert (facts(scene).ended_at, facts(scene).end_kind) == (None, "")


def test_a_corrected_start_of_support_keeps_the_courses_key(scene):
    with scene.database.reading() as session:
        course = find_course(session, scene.course)
    earlier = scene.clock().replace(hour=3)
    scene.write(
        CourseRow(
            supersedes_id=course.version_id,
            patient_id=course.patient_id,
            unit_id=course.unit_id,
            support_started_at=earlier,
        )
    )
    assert facts(scene).support_started_at == earlier
    with scene.database.reading() as session:
        assert [found.id for found in list_courses(session, scene.unit)] == [scene.course]


def test_courses_are_listed_by_origin_and_know_their_end(scene):
    other = scene.admit(None, "Bo")
    with scene.writing() as writing:
        writing.add(CourseEndRow(course_id=other, ended_at=scene.clock(), kind="died"))
        settle(writing, [other])
        writing.audit("end")
    with scene.database.reading() as session:
        listed = list_courses(session, scene.unit, "bedside")
        assert {course.id: course.bed_id for course in listed} == {
            scene.course: scene.beds[0],
            other: None,
        }
        assert [course.id for course in listed if course.ended_at is None] == [scene.course]
        assert list_courses(session, scene.unit, "import") == ()


def test_an_imported_course_is_found_by_its_source_and_imported_once(scene):
    patient = facts(scene).identity.patient_id
    rows = [
        CourseRow(
            patient_id=patient,
            unit_id=scene.unit,
            support_started_at=scene.clock(),
            origin="import",
            source_key="stay:2",
        )
        for _ in range(2)
    ]
    scene.write(rows[0])
    with scene.database.reading() as session:
        assert course_by_source(session, "stay:2") == rows[0].id
        assert course_by_source(session, "stay:3") is None
    with pytest.raises(Conflict):
        scene.write(rows[1])


def test_a_course_that_is_not_there_is_not_found(scene):
    with scene.database.reading() as session, pytest.raises(NotFound):
        course_facts(session, "0" * 32)
