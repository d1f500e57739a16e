"""A lead says from when to when the unit worked on paper; pages whose time it touches say so."""

from datetime import datetime, timedelta

from app.record.tables import OutageRow
from app.record.writing import Writing

LONGEST = timedelta(days=14)
LONGEST_WORDS = 200


class OutageRefused(ValueError):  # noqa: N818 - it names a state that a page has words for
    """The span cannot be what was meant; the sentence says why."""


def record_outage(
    writing: Writing, unit_id: str, from_at: datetime, to_at: datetime, words: str
) -> str:
    """Write the span down; returns its key. Raises OutageRefused."""
    words = " ".join(words.split())
    if to_at <= from_at:
        raise OutageRefused("The end has to lie after the beginning.")
    if to_at > writing.recorded_at:
        raise OutageRefused("The end is still to come: record it when the program is back.")
    if to_at - from_at > LONGEST:
        raise OutageRefused("That is longer than two weeks: look at the dates.")
    if not words or len(words) > LONGEST_WORDS:
        raise OutageRefused(f"Say in a few words what happened (at most {LONGEST_WORDS} letters).")
    row = OutageRow(unit_id=unit_id, from_at=from_at, to_at=to_at, words=words)
    writing.add_as("record_outage", row)
    return row.id
