"""Add words to a handoff that was accepted already; they reach whoever has the bed."""

from app.actions.handoff_step import Step, checked, worded, write_step
from app.actions.sent_once import did_before, keep_sent
from app.charting.handing_over import StepKind
from app.record.courses import course_facts
from app.record.writing import Writing


def add_late_words(writing: Writing, course_id: str, words: str, *, save_key: str = "") -> str:
    """Keep the words as an addendum; returns the step's id. Raises StepRefused."""
    content = {"late": words}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    before, person = checked(writing, StepKind.ADDED, facts)
    step = Step(words=worded(words, "what came late"))
    row = write_step(writing, course_id, StepKind.ADDED, before, person, step)
    keep_sent(writing, course_id, save_key, content, row)
    return row
