"""What a save has done, said over the page that follows it: read from the record, not believed."""

from collections.abc import Iterable
from datetime import datetime

from app.charting.facts import CourseFacts
from app.pages.board import BoardBed
from app.pages.handing_over import hold_words
from app.pages.row import KINDS
from app.pages.times import clock_time
from app.rules.unit_clock import UnitClock


def saved_words(facts: CourseFacts, row_id: str, now: datetime, clock: UnitClock) -> str:
    """ "Saved: full check of 00:37."; empty for a row that is not in this course or is struck."""
    row = next((each for each in facts.assessments if each.id == row_id and not each.struck), None)
    if row is None:
        return ""
    what = f"{KINDS[row.kind.value].lower()} of {clock_time(row.observed_at, now, clock)}"
    return f"Saved: {what}." if row.signed else f"Saved as a draft until somebody signs: {what}."


def handed_words(
    beds: Iterable[BoardBed], course_id: str, reader_id: str, now: datetime, clock: UnitClock
) -> str:
    """Where the handoff of a course stands now that the reader offered or accepted it.

    "L10 is yours since 00:40." or "L10: Ash has it; offered to Birch 00:39."; empty for a course
    that is in none of the beds.
    """
    bed = next((each for each in beds if each.course_id == course_id), None)
    if not course_id or bed is None or bed.summary is None:
        return ""
    told = bed.summary.handoff
    if told.holder_id == reader_id and told.taken_at is not None and told.offered_at is None:
        return f"{bed.code} is yours since {clock_time(told.taken_at, now, clock)}."
    return f"{bed.code}: {hold_words(told, clock, now)}."
