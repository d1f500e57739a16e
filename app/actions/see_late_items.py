"""Say that one has seen what came late, or what was corrected, behind an accepted handoff."""

from app.actions.handoff_step import Step, checked, write_step
from app.charting.handing_over import StepKind
from app.record.courses import course_facts
from app.record.writing import Writing


def see_late_items(writing: Writing, course_id: str, seen: frozenset[str]) -> None:
    """Keep which items this person has seen; seen twice is kept once. Raises StepRefused."""
    facts = course_facts(writing.session, course_id)
    before, person = checked(writing, StepKind.SEEN, facts)
    known = {
        key
        for step in facts.handoffs
        if step.kind is StepKind.SEEN and step.author_id == person.id
        for key in step.seen
    }
    new = seen - known
    if not new:
        writing.audit("send_form_again", course_id=course_id)
        return
    write_step(writing, course_id, StepKind.SEEN, before, person, Step(seen=tuple(sorted(new))))
