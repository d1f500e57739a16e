"""A chart kept in memory is what the record holds, whoever wrote it and in whichever order."""

from datetime import timedelta
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import event

from app.record.courses import course_facts
from app.record.database import Database
from app.record.kept_charts import KEPT, MOST_COURSES, KeptCharts
from app.record.tables import AssessmentRow, AssessmentStrikeRow, CoSignatureRow
from tests.record.scene import reading, set_scene


class Hand:
    """Writes about one course by two processes in turn; each act finds something to act upon."""

    def __init__(self, scene):
        self.scene = scene
        self.elsewhere = Database(scene.database.url.render_as_string(hide_password=False))
        self.rows = [scene.chart(peep="8", fio2="40")]

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

    moved: set[str] = set()  # noqa: RUF012 - reset by each test

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


ACTS = ("chart", "correct", "add_late", "strike", "sign", "move_in_time", "look", "from_elsewhere")


@given(st.lists(st.tuples(st.sampled_from(ACTS), st.integers(0, 5)), max_size=12))
@settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_what_is_kept_is_what_the_record_holds(engine, clock, acts):
    with engine.fresh() as database:
        hand = Hand(set_scene(database, clock))
        hand.moved = set()
        for act, place in acts:
            getattr(hand, act)(place)
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


def test_the_least_used_chart_is_forgotten_first(sqlite_database, clock):
    scene = set_scene(sqlite_database, clock)
    charts = KeptCharts()
    with sqlite_database.reading() as session:
        for number in range(MOST_COURSES + 1):
            charts.read(session, f"{number:032x}")
    assert len(charts._kept) == MOST_COURSES
    assert f"{0:032x}" not in charts._kept
    assert scene.course not in charts._kept
