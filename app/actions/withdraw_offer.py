"""Take an offer back: the bed stays with whoever has it."""

from app.actions.handoff_step import Step, checked, write_step
from app.actions.sent_once import did_before, keep_sent
from app.charting.handing_over import StepKind
from app.record.courses import course_facts
from app.record.writing import Writing


def withdraw_offer(writing: Writing, course_id: str, *, save_key: str = "") -> str:
    """Take back what is on offer; returns the step's id. Raises StepRefused."""
    content: dict[str, object] = {"withdraw": True}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    before, person = checked(writing, StepKind.WITHDRAWN, facts)
    row = write_step(writing, course_id, StepKind.WITHDRAWN, before, person, Step())
    keep_sent(writing, course_id, save_key, content, row)
    return row
