"""Take a bed that nobody has; or, as a lead, one on offer that nobody came for in 30 minutes.

Like an acceptance it moves responsibility, is one person's own act and carries their words; unlike
one it stands for ever as "taken", so that everybody sees that nobody handed the bed over.
"""

from app.actions.handoff_step import Step, checked, worded, write_step
from app.actions.sent_once import did_before, keep_sent
from app.charting.handing_over import StepKind
from app.record.courses import course_facts
from app.record.writing import Writing


def take_over(writing: Writing, course_id: str, words: str, *, save_key: str = "") -> str:
    """Take the bed, with what one knows of it in one's own words; returns the step's id.

    Raises StepRefused.
    """
    content = {"take": words}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    before, person = checked(writing, StepKind.TAKEN, facts)
    step = Step(words=worded(words, "what you know of this patient"))
    row = write_step(writing, course_id, StepKind.TAKEN, before, person, step)
    keep_sent(writing, course_id, save_key, content, row)
    return row
