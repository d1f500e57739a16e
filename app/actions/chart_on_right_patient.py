"""Put a row right that was written on the wrong patient: struck there, charted here, at once."""

from app.actions.chart_assessment import Charted, add_check
from app.actions.refresh_summary import refresh_summary
from app.actions.safety_tasks import settle_after_strike, settle_safety
from app.actions.strike_assessment import ANOTHER_PATIENTS, add_strike, standing_row
from app.charting.correcting import typed_again
from app.record.courses import course_facts
from app.record.errors import Conflict
from app.record.writing import Writing


class NotWhoSawIt(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Only who saw the numbers can chart them again; anybody else can strike the row."""


def chart_on_right_patient(
    writing: Writing,
    wrong_course_id: str,
    assessment_id: str,
    right_course_id: str,
    accepted: frozenset[str] = frozenset(),
) -> Charted:
    """Strike the row on the wrong chart and chart the same texts on the right one.

    The time observed stays what it was; the time of writing is now. Neither chart says whose the
    other is. Raises HeldUp while a question about these numbers on this patient is open,
    NothingCharted, NotWhoSawIt, NotFound, and Conflict for a row that is struck already.
    """
    if wrong_course_id == right_course_id:
        raise Conflict("the row stands on this chart already")
    row = standing_row(course_facts(writing.session, wrong_course_id), assessment_id)
    if row.author_id != writing.author_id:
        raise NotWhoSawIt("Only who saw the numbers can chart them again.")
    right = course_facts(writing.session, right_course_id)
    add_strike(writing, wrong_course_id, assessment_id, ANOTHER_PATIENTS)
    settle_after_strike(writing, wrong_course_id, row)
    charted, read = add_check(writing, right, typed_again(row, accepted))
    answers = {reading.field: reading.word for reading in read.readings}
    settle_safety(writing, right, answers, row.observed_at)
    for course_id in (wrong_course_id, right_course_id):
        refresh_summary(writing, course_id)
    return charted
