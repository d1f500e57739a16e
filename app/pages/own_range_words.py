"""A range of the patient's own in words: what is outside it, who ordered it, why, until when."""

from collections.abc import Iterator
from datetime import datetime

from app.charting.facts import CourseFacts, OwnRange
from app.pages.flag_words import label_of, with_site_unit
from app.pages.site_words import SiteWords
from app.pages.times import clock_time
from app.rules.own_ranges import in_force
from app.rules.unit_clock import UnitClock


def own_range_words(own: OwnRange, words: SiteWords) -> str:
    """ "plateau pressure outside over 34 cmH2O"; that it ended, for one without ends."""
    label = label_of(own.limit)
    if own.ends:
        return f"{label}: own range ended, the unit's range holds"
    ends = [("under", own.under), ("over", own.over)]
    told = " or ".join(
        f"{side} {with_site_unit(own.limit, f'{end:f}', words)}"
        for side, end in ends
        if end is not None
    )
    return f"{label}: outside is {told}"


def own_range_lines(
    facts: CourseFacts, at: datetime, clock: UnitClock, words: SiteWords
) -> tuple[str, ...]:
    """A line for each range of the patient's own that holds at a moment."""
    return tuple(_lines(facts, at, clock, words))


def _lines(facts: CourseFacts, at: datetime, clock: UnitClock, words: SiteWords) -> Iterator[str]:
    for own in in_force(facts.own_ranges, at):
        until = f", until {clock_time(own.until, at, clock)}" if own.until else ""
        whose = f"ordered by {own.ordered_by}: {own.why}"
        yield f"{own_range_words(own, words)} ({whose}{until})"
