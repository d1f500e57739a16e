"""A course kept in memory is what the record holds, whoever wrote it and in whichever order."""

from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import event

from app.record.beds import move
from app.record.courses import KEPT, course_facts
from app.record.database import Database
from app.record.errors import NotFound
from app.record.kept_courses import MOST
from app.record.tables import (
    AssessmentRow,
    AssessmentStrikeRow,
    BedRow,
    BodySizeRow,
    CoSignatureRow,
    CourseEndRow,
    CourseRow,
    EventRow,
    HandoffNoteRow,
    PatientDetailsRow,
)
from tests.record.scene import reading, set_scene


class Hand:
    """Writes about one course by two processes in turn; each act finds something to act upon."""

    def __init__(self, scene):
        self.scene = scene
        self.elsewhere = Database(scene.database.url.render_as_string(hide_password=False))
        self.rows = [scene.chart(peep="8", fio2="40")]
        self.moved = set()
        self.bed_version = self.version = ""

    def write(self, *rows):
        self.scene.clock.forward(minutes=1)
        self.scene.write(*rows)

    def chart(self, hours_ago):
        at = self.scene.clock.forward(minutes=1) - timedelta(hours=hours_ago)
        self.rows.append(self.scene.chart(at, signed=hours_ago != 2, peep="9", fio2="50"))

    def correct(self, place):
        row = self.facts().assessments[place % len(self.rows)]
        old = row.readings["peep"]
        more = {"number": Decimal(10 + place), "supersedes_id": old.id}
        self.write(reading(row.id, self.scene.course, "peep", row.observed_at, **more))

    def add_late(self, place):
        row = self.facts().assessments[place % len(self.rows)]
        field = f"late_{place}_{len(row.readings)}"
        self.write(reading(row.id, self.scene.course, field, row.observed_at, number=Decimal(1)))

    def strike(self, place):
        row = self.rows[place % len(self.rows)]
        self.write(
            AssessmentStrikeRow(course_id=self.scene.course, assessment_id=row, reason="wrong bed")
        )

    def sign(self, place):
        row = self.rows[place % len(self.rows)]
        self.write(CoSignatureRow(course_id=self.scene.course, assessment_id=row))

    def move_in_time(self, place):
        row = self.facts().assessments[place % len(self.rows)]
        if row.id in self.moved:
            return
        self.moved.add(row.id)
        later = row.observed_at + timedelta(minutes=5)
        self.write(
            AssessmentRow(
                course_id=self.scene.course,
                supersedes_id=row.id,
                kind="brief",
                observed_at=later,
                mode_family="vc",
            )
        )

    def note(self, place):
        at = self.scene.clock()
        self.write(
            HandoffNoteRow(
                course_id=self.scene.course, heading="course", words=f"{place}", observed_at=at
            )
        )

    def measure(self, place):
        at, height = self.scene.clock(), Decimal(160 + place)
        self.write(BodySizeRow(course_id=self.scene.course, observed_at=at, height_cm=height))

    def turn(self, _place):
        at = self.scene.clock()
        self.write(EventRow(course_id=self.scene.course, kind="prone", observed_at=at))

    def strike_turn(self, place):
        events = self.facts().events
        if events:
            event = events[place % len(events)]
            row = EventRow(course_id=self.scene.course, kind=event.kind, struck="wrong bed")
            row.observed_at, row.supersedes_id = event.observed_at, event.version_id
            self.write(row)

    def name_anew(self, place):
        patient = self.facts().identity.patient_id
        self.write(PatientDetailsRow(patient_id=patient, name=f"Ada {place}", record_number="R1"))

    def rename_bed(self, place):
        self.bed_version = self.bed_version or self.scene.beds[0]
        row = BedRow(
            supersedes_id=self.bed_version,
            bed_id=self.scene.beds[0],
            unit_id=self.scene.unit,
            code=f"1-{place}",
            position=1,
        )
        self.write(row)
        self.bed_version = row.id

    def move_bed(self, place):
        at = self.scene.clock.forward(minutes=1)
        with self.scene.writing() as writing:
            move(writing, {self.scene.course: self.scene.beds[place % 3]}, at)
            writing.audit("move")

    def start_earlier(self, place):
        self.version = self.version or self.scene.course
        row = CourseRow(
            supersedes_id=self.version,
            patient_id=self.facts().identity.patient_id,
            unit_id=self.scene.unit,
            support_started_at=self.scene.clock() - timedelta(days=place),
        )
        self.write(row)
        self.version = row.id

    def end(self, _place):
        at = self.scene.clock()
        self.write(CourseEndRow(course_id=self.scene.course, ended_at=at, kind="extubated"))

    def look(self, _place):
        self.facts()

    def from_elsewhere(self, place):
        ours, self.scene.database = self.scene.database, self.elsewhere
        self.chart(place)
        self.scene.database = ours

    def facts(self, *, kept=True):
        with self.scene.database.reading() as session:
            if not kept:
                session.info.pop(KEPT)
            return course_facts(session, self.scene.course)


OF_THE_CHART = ("chart", "correct", "add_late", "strike", "sign", "move_in_time", "from_elsewhere")
BESIDE_IT = (
    "note",
    "measure",
    "turn",
    "strike_turn",
    "name_anew",
    "rename_bed",
    "move_bed",
    "start_earlier",
)
ACTS = (*OF_THE_CHART, *BESIDE_IT, "end", "look")


@given(st.lists(st.tuples(st.sampled_from(ACTS), st.integers(0, 5)), max_size=12))
@settings(
    max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_what_is_kept_is_what_the_record_holds(engine, clock, acts):
    with engine.fresh() as database:
        hand = Hand(set_scene(database, clock))
        for act, place in acts:
            getattr(hand, act)(place)
            assert hand.facts() == hand.facts(kept=False)
        hand.elsewhere.close()


def test_a_row_struck_before_anybody_read_it_is_known_as_struck(database, clock):
    hand = Hand(set_scene(database, clock))
    hand.facts()
    hand.chart(0)
    hand.strike(1)
    assert hand.facts() == hand.facts(kept=False)
    hand.elsewhere.close()


def test_a_write_sees_its_own_rows_and_keeps_none_of_them(database, clock):
    scene = set_scene(database, clock)
    with pytest.raises(ZeroDivisionError):
        chart_and_fail(scene)
    with database.reading() as session:
        assert course_facts(session, scene.course).assessments == ()


def chart_and_fail(scene):
    with scene.writing() as writing:
        row = AssessmentRow(
            course_id=scene.course, kind="full", observed_at=scene.clock(), mode_family="vc"
        )
        writing.add(row)
        assert [a.id for a in course_facts(writing.session, scene.course).assessments] == [row.id]
        raise ZeroDivisionError


def test_a_view_from_before_a_write_shows_nothing_of_it(database, clock):
    scene = set_scene(database, clock)
    first = scene.chart(peep="8")
    with database.reading() as before:
        course_facts(before, scene.course)
        clock.forward(minutes=1)
        scene.chart(peep="9")
        with database.reading() as after:
            assert len(course_facts(after, scene.course).assessments) == 2
        assert [row.id for row in course_facts(before, scene.course).assessments] == [first]


def test_a_long_chart_is_brought_up_to_date_by_its_new_rows_alone(database, clock):
    scene = set_scene(database, clock)
    for _ in range(5):
        clock.forward(minutes=1)
        scene.chart(peep="8", fio2="40")
    fetched = []
    with database.reading() as session:
        course_facts(session, scene.course)
    clock.forward(minutes=1)
    scene.chart(peep="9")
    with database.reading() as session:
        event.listen(
            session.get_bind(),
            "before_cursor_execute",
            lambda *told: fetched.append(told[2]),
        )
        assert len(course_facts(session, scene.course).assessments) == 6
    of_course = [text for text in fetched if "FROM reading" in text and "course_id =" in text]
    assert not [text for text in of_course if "assessment_id IN" not in text and ">" not in text]


def test_the_least_used_course_is_forgotten_first(sqlite_database, clock):
    scene = set_scene(sqlite_database, clock, beds=MOST + 2)
    courses = [scene.course, *(scene.admit(bed) for bed in scene.beds[1 : MOST + 1])]
    with sqlite_database.reading() as session:
        for course in courses:
            course_facts(session, course)
    kept = sqlite_database._courses._kept
    assert [course for course in courses if kept.find(course) is not None] == courses[1:]


def test_nothing_is_kept_of_a_course_that_is_not_there(sqlite_database, clock):
    set_scene(sqlite_database, clock)
    with sqlite_database.reading() as session, pytest.raises(NotFound):
        course_facts(session, "0" * 32)
    assert sqlite_database._courses._kept.find("0" * 32) is None


def test_a_write_that_adds_beside_the_chart_sees_it_and_keeps_none_of_it(database, clock):
    scene = set_scene(database, clock)
    with database.reading() as session:
        course_facts(session, scene.course)
    with pytest.raises(ZeroDivisionError):
        note_and_fail(scene)
    with database.reading() as session:
        assert course_facts(session, scene.course).notes == ()


def note_and_fail(scene):
    with scene.writing() as writing:
        writing.add(
            HandoffNoteRow(
                course_id=scene.course, heading="course", words="x", observed_at=scene.clock()
            )
        )
        assert len(course_facts(writing.session, scene.course).notes) == 1
        raise ZeroDivisionError


def test_what_a_write_read_of_its_own_rows_is_kept_once_it_stands(sqlite_database, clock):
    scene = set_scene(sqlite_database, clock)
    with scene.writing() as writing:
        row = AssessmentRow(
            course_id=scene.course, kind="full", observed_at=scene.clock(), mode_family="vc"
        )
        writing.add(row)
        course_facts(writing.session, scene.course)
        late = AssessmentRow(
            course_id=scene.course, kind="brief", observed_at=scene.clock(), mode_family="vc"
        )
        writing.add(late)
        writing.audit("chart", course_id=scene.course)
    kept = sqlite_database._courses._kept.find(scene.course).facts
    assert [known.id for known in kept.assessments] == [row.id]
    with sqlite_database.reading() as session:
        chart = course_facts(session, scene.course).assessments
    assert [known.id for known in chart] == [row.id, late.id]
