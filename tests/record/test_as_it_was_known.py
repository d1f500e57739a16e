"""What a course was known as at a moment is what a reader saw then, whatever was written since."""

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app.record.courses import course_facts, find_course
from app.record.ids import last_by
from tests.record.scene import set_scene
from tests.record.test_kept_courses import ACTS, Hand

MOVED_AT_ONCE = {"rename_bed"}
"""A bed is named by the code that it has now, also on an old page."""


@given(
    st.lists(
        st.tuples(st.sampled_from(sorted({*ACTS} - MOVED_AT_ONCE)), st.integers(0, 5)),
        min_size=1,
        max_size=10,
    )
)
@settings(
    max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_a_course_as_it_was_known_is_what_was_seen_then(engine, clock, acts):
    with engine.fresh() as database:
        hand = Hand(set_scene(database, clock))
        seen = [(clock(), hand.facts())]
        for act, place in acts:
            getattr(hand, act)(place)
            seen.append((clock(), hand.facts()))
            clock.forward(seconds=1)
        hand.elsewhere.close()
        with database.reading() as session:
            for moment, facts in seen:
                assert course_facts(session, facts.course_id, until=last_by(moment)) == facts


def test_an_end_that_was_written_later_had_not_been_known(database, clock):
    hand = Hand(set_scene(database, clock))
    before = clock()
    clock.forward(minutes=1)
    hand.end(0)
    course = hand.scene.course
    with database.reading() as session:
        assert find_course(session, course).ended_at is not None
        assert find_course(session, course, last_by(before)).ended_at is None
    hand.elsewhere.close()
