"""Somebody acts in a bed that is assigned to a colleague, and says why: once a shift and bed."""

from datetime import datetime

from msgspec import Struct

from app.charting.assigning import ANOTHER, COVER_REASONS
from app.record.tables import CoverRow
from app.record.writing import Writing

LONGEST_WORDS = 200


class BedCover(Struct, frozen=True):
    """Who acts in which bed, for whom, until when, and why: a reason of the list, with words or
    without."""

    staff_id: str
    bed_id: str
    for_id: str
    until: datetime
    reason: str
    words: str = ""


def refused(reason: str, words: str) -> str:
    """What is missing in a reason, as its form says it; empty where nothing is."""
    if reason not in COVER_REASONS:
        return "Choose why you act in this bed."
    if reason == ANOTHER and not words.strip():
        return "Say the other reason in a few words."
    if len(words) > LONGEST_WORDS:
        return f"Say it shorter: at most {LONGEST_WORDS} letters."
    return ""


def cover_bed(writing: Writing, unit_id: str, course_id: str, new: BedCover) -> None:
    """Write it down, from now on. Who has the bed does not change by it (decision 10).

    Raises ValueError for a reason that `refused` has words for.
    """
    if why_not := refused(new.reason, new.words):
        raise ValueError(why_not)
    said = " ".join(new.words.split())
    reason = COVER_REASONS[new.reason]
    if new.reason == ANOTHER:
        reason = said
    elif said:
        reason = f"{reason}, {said}"
    row = CoverRow(
        unit_id=unit_id,
        staff_id=new.staff_id,
        for_staff_id=new.for_id,
        from_at=writing.recorded_at,
        to_at=new.until,
        words=reason,
        bed_id=new.bed_id,
    )
    writing.add_as("cover_bed", row, course_id=course_id)
