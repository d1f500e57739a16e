"""Answer the question that an offer came back with; the offer stands again as it was."""

from app.actions.handoff_step import Step, checked, worded, write_step
from app.actions.sent_once import did_before, keep_sent
from app.charting.handing_over import StepKind
from app.record.courses import course_facts
from app.record.writing import Writing


def answer_question(writing: Writing, course_id: str, words: str, *, save_key: str = "") -> str:
    """Answer and put the same offer up again; returns the step's id. Raises StepRefused."""
    content = {"answer_question": words}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    before, person = checked(writing, StepKind.ANSWERED, facts)
    step = Step(words=worded(words, "the answer"))
    row = write_step(writing, course_id, StepKind.ANSWERED, before, person, step)
    keep_sent(writing, course_id, save_key, content, row)
    return row
