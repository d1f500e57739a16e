"""What a reader must know of the row that a number stands in."""

from collections.abc import Iterator

from app.charting.facts import Assessment, Kind
from app.pages.grid import CORRECTED, row_notes
from app.pages.known import Known
from app.pages.times import clock_time
from app.rules.stale import stale_after
from app.rules.tubeless import is_of_the_tube, tube_out_at

ROWS = {
    Kind.FULL: "a full check",
    Kind.BRIEF: "a brief check",
    Kind.EVENT: "an event's row",
    Kind.GAS: "a blood gas",
}


def row_words(row: Assessment, key: str, course: Known) -> tuple[str, ...]:
    """Imported, late, struck, unsigned, and old: each in a few words."""
    return tuple(_words(row, key, course))


def _words(row: Assessment, key: str, course: Known) -> Iterator[str]:
    # Over one number the note would say it of the wrong one: the corrected value says it itself.
    yield from (note for note in row_notes(row, course.now, course.clock) if note != CORRECTED)
    out = tube_out_at(course.facts)
    if out is not None and row.observed_at < out and is_of_the_tube(key):
        at = clock_time(out, course.now, course.clock)
        yield f"read through a tube that came out {at}: it says nothing of now"
        return
    span = stale_after(key, course.policy)
    if course.now >= row.observed_at + span:
        yield f"older than {span.total_seconds() / 3600:g} h: it does not say where the bed stands"
