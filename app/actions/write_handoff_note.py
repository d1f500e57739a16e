"""Write a person's own words under one heading of a patient's handoff page."""

from app.actions.refresh_summary import refresh_summary
from app.record.courses import find_course
from app.record.tables import HandoffNoteRow
from app.record.writing import Writing

LONGEST = 1000
"""Characters under one heading: what fits on one sheet with the rest (engineering judgement)."""


class NoteTooLong(ValueError):  # noqa: N818 - it names a state that a page has words for
    """The words cannot be kept; the sentence says why."""


def write_handoff_note(writing: Writing, course_id: str, heading: str, words: str) -> None:
    """Keep the words; the newest under a heading holds, older ones stay in the record.

    Raises NotFound for an unknown course and NoteTooLong for words that do not fit.
    """
    find_course(writing.session, course_id)
    kept = words.strip()
    if len(kept) > LONGEST:
        raise NoteTooLong(
            f"{len(kept)} characters: one heading takes {LONGEST}. Nothing was saved."
        )
    row = HandoffNoteRow(
        course_id=course_id, heading=heading, words=kept, observed_at=writing.recorded_at
    )
    writing.add_as("write_handoff_note", row, course_id=course_id)
    refresh_summary(writing, course_id)
