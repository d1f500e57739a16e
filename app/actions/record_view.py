"""Note that somebody looked at a patient's page, or printed it: who, when, from where."""

from app.record.writing import Writing


def record_view(writing: Writing, course_id: str, *, printed: bool = False) -> None:
    """One audit line and nothing else."""
    writing.audit("print_page" if printed else "view_page", course_id=course_id)
