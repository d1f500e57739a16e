"""Note that somebody looked a patient up by record number: who and how many, not which number."""

from collections.abc import Collection

from app.record.writing import Writing


def note_search(writing: Writing, course_ids: Collection[str]) -> None:
    """One line for each course that was found; one without any where nothing was."""
    for course_id in course_ids:
        writing.audit("find_course", course_id=course_id)
    if not course_ids:
        writing.audit("find_course", detail={"found": 0})
