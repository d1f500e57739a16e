"""Whatever is moved in whichever order: never two patients in one bed, never one in two."""

from datetime import datetime, timedelta
from itertools import pairwise

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from app.actions.close_course import NewEnd, close_course
from app.actions.move_patient import Move, PlaceRefused, Way, move_patient
from app.actions.take_back_end import TakenBack, take_back_end
from app.charting.typed_sheet import SheetHeldUp
from app.record.beds import occupants, stays_of, unit_beds
from app.record.courses import course_facts
from app.record.summaries import find_summary
from tests.actions.scene import Shift
from tests.clock import Clock
from tests.ward import open_ward

PATIENTS = ("L3", "L5", "L6")
"""The patients by the bed in which each began."""

BEDS = ("L3", "L5", "L6", "L11")

WHAT = st.sampled_from(("bed", "swap", "out", "close", "back"))
STEPS = st.lists(
    st.tuples(
        WHAT,
        st.sampled_from(PATIENTS),
        st.sampled_from((*BEDS, "")),
        st.sampled_from(PATIENTS),
        st.integers(0, 25),
    ),
    min_size=3,
    max_size=8,
)
"""What, whose, which bed, with whom, and how many minutes before it is written."""


def one(shift: Shift, what: str, who: str, bed: str, other: str, ago: int) -> None:
    """One act of Ash, or its refusal in words."""
    course, at = shift.ward.courses[who], shift.clock.now - timedelta(minutes=ago)
    try:
        with shift.writing("ash") as writing:
            if what == "close":
                asked = frozenset({f"before_a_row:{at.isoformat()}"})
                close_course(writing, course, NewEnd("left", at, accepted=asked))
            elif what == "back":
                take_back_end(writing, course, TakenBack("closed in error", bed))
            else:
                to = Move(Way(what), at, bed, shift.ward.courses[other], "theatre")
                move_patient(writing, course, to)
    except (PlaceRefused, SheetHeldUp):
        pass


def nobody_is_in_two_places(shift: Shift) -> None:
    """The bed of each course as the database holds it, as the record tells it, and on the board."""
    courses = shift.ward.courses
    with shift.database.reading() as session:
        there = dict(occupants(session, shift.ward.unit_id))
        stays = stays_of(session, courses.values())
        codes = {bed.id: bed.code for bed in unit_beds(session, shift.ward.unit_id)}
        for course in courses.values():
            facts = course_facts(session, course)
            told = facts.bed_stays[-1].bed if facts.ended_at is None else None
            held = [codes[bed] for bed, who in there.items() if who == course]
            assert held == ([told] if told else [])
            assert (find_summary(session, course) is not None) == bool(told)
    spans: dict[str, list[tuple[datetime, datetime]]] = {}
    end = shift.clock.now + timedelta(days=1)
    for stay in stays:
        if stay.bed_id is not None and (stay.until or end) > stay.from_at:
            spans.setdefault(stay.bed_id, []).append((stay.from_at, stay.until or end))
    for of_bed in spans.values():
        of_bed.sort()
        assert all(left[1] <= right[0] for left, right in pairwise(of_bed))


@settings(
    max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(steps=STEPS)
def test_no_order_of_moves_puts_two_patients_in_one_bed(engine, steps):
    clock = Clock()
    with engine.set_up("ward of moves", lambda made: open_ward(made, clock)) as (database, ward):
        shift = Shift(database, clock, ward)
        for step in steps:
            clock.forward(minutes=10)
            one(shift, *step)
            nobody_is_in_two_places(shift)
        assert shift.differences() == []
