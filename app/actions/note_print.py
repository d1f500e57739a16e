"""Note that somebody printed patients' pages, or blank forms: who, which, when, from where."""

from collections.abc import Iterable

from app.record.writing import Writing


def note_print(writing: Writing, course_ids: Iterable[str], what: str) -> None:
    """One audit line for each patient on paper; one without a patient for what holds none."""
    for course_id in course_ids:
        writing.audit("print_page", course_id=course_id, detail={"set": what})
    writing.audit("print_set", detail={"set": what})
