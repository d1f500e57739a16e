"""Take the end of a course back, by a row of its own: it was closed in error, or too early."""

from datetime import timedelta

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.move_patient import PlaceRefused, empty_bed, look_at_gear
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.course_ends import LONGEST_WORDS
from app.charting.facts import CourseFacts
from app.record.beds import Stay, free_since, move, settle, stays_of
from app.record.courses import Course, course_facts, courses_of, find_course
from app.record.tables import CourseEndRow
from app.record.writing import Writing

TAKEN_BACK_WITHIN = timedelta(days=3)
"""How long after it was written an end can be taken back; later, support is a course of its own
(engineering judgement)."""


class TakenBack(Struct, frozen=True):
    """Why, and in which bed the patient is; no bed where they are away from the unit."""

    words: str
    bed: str = ""


def take_back_end(writing: Writing, course_id: str, back: TakenBack, *, save_key: str = "") -> str:
    """Write that the course has not ended, and where the patient is; returns the row's id.

    Raises PlaceRefused where that cannot be, KeyReused, and NotFound.
    """
    content = {"taken_back": True, **asdict(back)}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    course = find_course(writing.session, course_id)
    _refuse(writing, facts, course, back)
    bed_id = empty_bed(writing, facts, back.bed, writing.recorded_at).id if back.bed else None
    (*_, last) = stays_of(writing.session, [course_id]) or (None,)
    row = CourseEndRow(
        supersedes_id=course.end_version_id, course_id=course_id, words=back.words.strip()
    )
    writing.add_as("take_back_end", row, course_id=course_id)
    if not _was_there_all_along(writing, last, bed_id):
        _place(writing, course_id, last, bed_id)
        look_at_gear(writing, facts, writing.recorded_at)
    settle(writing, [course_id])
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def _refuse(writing: Writing, facts: CourseFacts, course: Course, back: TakenBack) -> None:
    if facts.ended_at is None:
        raise PlaceRefused("This course is open: there is no end to take back.")
    if not back.words.strip():
        raise PlaceRefused("Say why the end is taken back.")
    if len(back.words.strip()) > LONGEST_WORDS:
        raise PlaceRefused(f"{len(back.words.strip())} characters: it takes {LONGEST_WORDS}.")
    if writing.recorded_at - facts.ends[-1].written_at > TAKEN_BACK_WITHIN:
        days = TAKEN_BACK_WITHIN.days
        raise PlaceRefused(f"The end was written more than {days} days ago. Take the patient in.")
    for other in courses_of(writing.session, facts.unit_id, [course.patient_id]):
        if other.ended_at is None:
            sentence = "The patient is on another course of this unit, which is open."
            raise PlaceRefused(sentence, other.id)


def _was_there_all_along(writing: Writing, last: Stay | None, bed_id: str | None) -> bool:
    """Whether the place before the end still holds: nobody else was in the bed meanwhile."""
    if last is None or last.bed_id != bed_id:
        return False
    if bed_id is None:
        return True
    free = free_since(writing.session, bed_id, last.course_id)
    return free is None or free <= last.from_at


def _place(writing: Writing, course_id: str, last: Stay | None, bed_id: str | None) -> None:
    """In no bed from the end that was taken back until now, and from now on where they are."""
    now = writing.recorded_at
    if last is not None and last.bed_id is not None:
        left = min(max(last.from_at, last.until or now), now)
        move(writing, {course_id: None}, left)
    if bed_id is not None:
        move(writing, {course_id: bed_id}, now)
