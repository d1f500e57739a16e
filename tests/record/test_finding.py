"""What is looked up by number, by end or by shift costs what is found, not what was ever there."""

from datetime import timedelta

import pytest

from app.charting.act_time import CLOCK_SKEW
from app.record.courses import courses_of
from app.record.finding import courses_by_number, ended_courses, steps_between
from app.record.tables import (
    CourseEndRow,
    CourseRow,
    HandoffRow,
    PatientDetailsRow,
    PatientRow,
    UnitRow,
)
from tests.record.work import work

SOME_WEEKS = timedelta(weeks=4)

NEIGHBOURS = 5
"""Steps more or less, by where the random key of a course comes to lie among others."""


def end(scene, course, at, **more):
    row = CourseEndRow(course_id=course, ended_at=at, kind="extubated", **more)
    scene.write(row)
    return row


def ended(scene, since):
    with scene.database.reading() as session:
        return [course.id for course in ended_courses(session, scene.unit, since)]


def another_unit(scene):
    with scene.writing() as writing:
        key = writing.new_id()
        writing.add(UnitRow(id=key, unit_id=key, code="B", name="Unit B", zone="Europe/Berlin"))
        writing.audit("set_up")
    return key


def patient_of(scene):
    with scene.database.reading() as session:
        (found,) = courses_by_number(session, scene.unit, "R1")
    return found.patient_id


def course_again(scene, unit="", days=0):
    """Another course of the same patient, begun some days before now."""
    row = CourseRow(
        patient_id=patient_of(scene),
        unit_id=unit or scene.unit,
        support_started_at=scene.clock() - timedelta(days=days),
    )
    scene.write(row)
    return row.id


def years_of(scene, patients):
    """That many patients come, are handed over and leave, and then a year goes by."""
    with scene.writing() as writing:
        for number in range(patients):
            patient = PatientRow()
            writing.add(patient)
            course = CourseRow(
                patient_id=patient.id, unit_id=scene.unit, support_started_at=scene.clock()
            )
            writing.add(
                PatientDetailsRow(patient_id=patient.id, record_number=f"{patients}-{number}"),
                course,
            )
            writing.add(
                HandoffRow(course_id=course.id, state="offered", version=1),
                CourseEndRow(course_id=course.id, ended_at=scene.clock(), kind="extubated"),
            )
        writing.audit("years")
    scene.clock.forward(days=365)


def asked_now(scene, what):
    """What it takes to answer a question of the page about the last weeks and the last shift."""
    now = scene.clock()
    end(scene, scene.admit(None), now)
    scene.write(HandoffRow(course_id=scene.course, state="offered", version=1))
    questions = {
        "ended": lambda session: ended_courses(session, scene.unit, now - SOME_WEEKS),
        "number": lambda session: courses_by_number(session, scene.unit, "5-3"),
        "steps": lambda session: steps_between(
            session, scene.unit, now - timedelta(hours=12), now + timedelta(hours=1)
        ),
    }
    with scene.database.reading() as session:
        assert len(questions[what](session)) == 1
        return work(session, questions[what])


@pytest.mark.parametrize("what", ["ended", "number", "steps"])
def test_what_is_found_costs_the_same_after_some_patients_and_after_many(scene, what):
    years_of(scene, 5)
    few = asked_now(scene, what)
    years_of(scene, 200)
    assert asked_now(scene, what) <= few + NEIGHBOURS


def test_the_newest_end_comes_first(scene):
    first, second = scene.course, scene.admit(None)
    end(scene, second, scene.clock())
    end(scene, first, scene.clock.forward(minutes=1))
    assert ended(scene, scene.clock() - SOME_WEEKS) == [first, second]


@pytest.mark.parametrize(("later", "found"), [(-1, 1), (0, 1), (1, 0)])
def test_an_end_counts_from_the_moment_that_is_asked_for(scene, later, found):
    at = scene.clock()
    end(scene, scene.course, at)
    assert len(ended(scene, at + timedelta(seconds=later))) == found


def test_an_end_that_was_written_late_counts_by_when_it_was(scene):
    at = scene.clock() - timedelta(days=2)
    end(scene, scene.course, at)
    assert ended(scene, at) == [scene.course]
    assert ended(scene, at + timedelta(seconds=1)) == []


def test_an_end_is_found_that_a_fast_clock_wrote_ahead_of_its_time(scene):
    at = scene.clock() + CLOCK_SKEW
    end(scene, scene.course, at)
    assert ended(scene, at) == [scene.course]


def test_an_end_that_was_taken_back_is_no_end(scene):
    wrong = end(scene, scene.course, scene.clock())
    scene.write(CourseEndRow(course_id=scene.course, supersedes_id=wrong.id))
    assert ended(scene, scene.clock() - SOME_WEEKS) == []


def test_an_end_put_right_to_before_the_span_is_not_in_it(scene):
    at = scene.clock()
    wrong = end(scene, scene.course, at)
    end(scene, scene.course, at - timedelta(days=1), supersedes_id=wrong.id)
    assert ended(scene, at) == []


def test_only_the_courses_that_ended_then_are_told_of_a_patient_with_several(scene):
    course_again(scene, days=3)
    end(scene, scene.course, scene.clock())
    assert ended(scene, scene.clock() - SOME_WEEKS) == [scene.course]


def test_the_ends_of_another_unit_are_its_own(scene):
    end(scene, course_again(scene, another_unit(scene)), scene.clock())
    assert ended(scene, scene.clock() - SOME_WEEKS) == []


def test_a_number_finds_every_course_of_its_patient_in_this_unit_the_newest_first(scene):
    course_again(scene, another_unit(scene))
    before = course_again(scene, days=30)
    with scene.database.reading() as session:
        found = courses_by_number(session, scene.unit, "R1")
    assert [course.id for course in found] == [scene.course, before]


def test_a_number_of_nobody_finds_nothing(scene):
    with scene.database.reading() as session:
        assert courses_by_number(session, scene.unit, "R9") == ()


def test_the_courses_of_nobody_are_none(scene):
    with scene.database.reading() as session:
        assert courses_of(session, scene.unit, ()) == ()


def test_a_course_whose_start_was_put_right_is_one_course_of_its_patient(scene):
    patient = patient_of(scene)
    earlier = scene.clock() - timedelta(days=1)
    scene.write(
        CourseRow(
            supersedes_id=scene.course,
            patient_id=patient,
            unit_id=scene.unit,
            support_started_at=earlier,
        )
    )
    with scene.database.reading() as session:
        (found,) = courses_of(session, scene.unit, [patient])
    assert (found.id, found.support_started_at) == (scene.course, earlier)


def test_courses_of_several_patients_come_by_the_start_of_support(scene):
    with scene.writing() as writing:
        patient = PatientRow()
        writing.add(patient)
        earlier = CourseRow(
            patient_id=patient.id,
            unit_id=scene.unit,
            support_started_at=scene.clock() - timedelta(days=1),
        )
        writing.add(PatientDetailsRow(patient_id=patient.id, record_number="R2"), earlier)
        writing.audit("admit")
    with scene.database.reading() as session:
        found = courses_of(session, scene.unit, [patient_of(scene), patient.id])
    assert [course.id for course in found] == [earlier.id, scene.course]


@pytest.mark.parametrize(("at", "found"), [(-1, 0), (0, 1), (59, 1), (60, 0)])
def test_a_step_belongs_to_the_span_in_which_it_was_written(scene, at, found):
    start = scene.clock() + timedelta(minutes=1, microseconds=1)
    scene.clock.now = (
        start + timedelta(minutes=at) if at >= 0 else start - timedelta(microseconds=1)
    )
    scene.write(HandoffRow(course_id=scene.course, state="offered", version=1))
    with scene.database.reading() as session:
        steps = steps_between(session, scene.unit, start, start + timedelta(hours=1))
    assert [step.kind for step in steps] == ["offered"] * found


def test_a_step_of_another_unit_is_its_own(scene):
    elsewhere = course_again(scene, another_unit(scene))
    start = scene.clock.forward(minutes=1)
    scene.write(HandoffRow(course_id=elsewhere, state="offered", version=1))
    with scene.database.reading() as session:
        assert steps_between(session, scene.unit, start, start + timedelta(hours=1)) == ()
