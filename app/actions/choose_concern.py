"""Choose how worried one is about a patient, with the reason; a person does, nothing else."""

from app.actions.handoff_step import StepRefused
from app.actions.refresh_summary import refresh_summary
from app.actions.write_handoff_note import LONGEST
from app.charting.handing_over import Level
from app.record.courses import find_course
from app.record.tables import HandoffNoteRow
from app.record.writing import Writing


def choose_concern(writing: Writing, course_id: str, level: str, reason: str) -> None:
    """Keep the level and its reason; the newest holds. Raises NotFound and StepRefused."""
    find_course(writing.session, course_id)
    kept = reason.strip()
    if level not in [each.value for each in Level]:
        raise StepRefused("Choose low, raised or high.")
    if level != Level.LOW.value and not kept:
        raise StepRefused("Raised or high concern needs one reason.")
    if len(kept) > LONGEST:
        raise StepRefused(f"{len(kept)} characters: one heading takes {LONGEST}.")
    row = HandoffNoteRow(
        course_id=course_id,
        heading="concern",
        words=kept,
        observed_at=writing.recorded_at,
        level=level,
    )
    writing.add_as("choose_concern", row, course_id=course_id)
    refresh_summary(writing, course_id)
