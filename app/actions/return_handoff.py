"""Return an offer with a question: the bed stays where it is until it is answered and accepted."""

from app.actions.handoff_step import Step, checked, worded, write_step
from app.actions.sent_once import did_before, keep_sent
from app.charting.handing_over import StepKind
from app.record.courses import course_facts
from app.record.writing import Writing


def return_handoff(writing: Writing, course_id: str, words: str, *, save_key: str = "") -> str:
    """Put the offer back with a question; returns the step's id. Raises StepRefused."""
    content = {"return_handoff": words}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    before, person = checked(writing, StepKind.RETURNED, facts)
    step = Step(words=worded(words, "your question"))
    row = write_step(writing, course_id, StepKind.RETURNED, before, person, step)
    keep_sent(writing, course_id, save_key, content, row)
    return row
