"""Write down that an inhaled treatment was given and what came of it, or why it was not."""

from datetime import datetime

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.order_treatment import TreatmentRefused, not_then
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.facts import CourseFacts
from app.charting.treatments import Treatment, giving_refused
from app.record.courses import course_facts
from app.record.errors import NotFound
from app.record.tables import TreatmentGivenRow
from app.record.writing import Writing


class NewGiven(Struct, frozen=True):
    """One time of a treatment: `not_given` says why it was left out."""

    treatment_id: str
    given_at: datetime
    before: str = ""
    after: str = ""
    response: str = ""
    not_given: str = ""


def give_treatment(writing: Writing, course_id: str, given: NewGiven, *, save_key: str = "") -> str:
    """Keep it and bring the board up to it; returns the row's id.

    Raises TreatmentRefused before the order, after the stop, or for a response to nothing;
    KeyReused, and NotFound.
    """
    content = asdict(given)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    not_then(facts, given.given_at, writing.recorded_at)
    for sentence in giving_refused(treatment_of(facts, given.treatment_id), given.given_at):
        raise TreatmentRefused(sentence)
    if given.not_given and (given.after or given.response):
        raise TreatmentRefused("It was not given: leave what came of it empty.")
    row = TreatmentGivenRow(course_id=course_id, **content)
    writing.add_as("give_treatment", row, course_id=course_id)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def treatment_of(facts: CourseFacts, treatment_id: str) -> Treatment:
    """The treatment of this course with that id. Raises NotFound."""
    for treatment in facts.treatments:
        if treatment.id == treatment_id:
            return treatment
    raise NotFound("treatment", treatment_id)
