"""A cover ends before its time, or is taken back before it began."""

from app.record.assignments import covers
from app.record.errors import NotFound
from app.record.tables import CoverRow
from app.record.writing import Writing


class NotYoursToEnd(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Neither of the two, nor a lead."""


def end_cover(writing: Writing, unit_id: str, cover_id: str, *, leads: bool) -> None:
    """It ends now. Raises NotFound for one that is over or was changed, and NotYoursToEnd."""
    standing = covers(writing.session, unit_id, writing.recorded_at)
    found = next((cover for cover in standing if cover.id == cover_id), None)
    if found is None:
        raise NotFound("cover", cover_id)
    if not leads and writing.author_id not in (found.staff_id, found.for_id):
        raise NotYoursToEnd("One of the two ends it, or a lead.")
    row = CoverRow(
        supersedes_id=found.id,
        unit_id=unit_id,
        staff_id=found.staff_id,
        for_staff_id=found.for_id,
        from_at=found.from_at,
        to_at=writing.recorded_at,
        words=found.words,
        bed_id=found.bed_id or None,
    )
    writing.add_as("end_cover", row)
