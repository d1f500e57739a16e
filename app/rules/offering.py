"""What has to be there before a handoff is offered, and how it has to be said back.

The level of concern is a person's; the record only suggests one, with its reasons.
"""

from dataclasses import dataclass
from datetime import datetime

from app.charting.facts import CourseFacts, HandoffNote
from app.charting.handing_over import Level
from app.rules.bed_summary import BedSummary
from app.rules.handoff_state import concern_of, handoff_of
from app.rules.standing import Statement, Verdict

RAISED_REASONS = 1
HIGH_REASONS = 2
"""How many causes outside the unit's ranges suggest a level (engineering judgement)."""


@dataclass(frozen=True, slots=True)
class Suggested:
    """A level with the limits it rests on; a person chooses, with or against it."""

    level: Level
    statements: tuple[Statement, ...]


def suggested_concern(summary: BedSummary, now: datetime) -> Suggested:
    """Low without a confirmed value outside; raised with one cause, high with two or more."""
    outside = outside_now(summary, now)
    causes = {told.group for told in outside}
    if len(causes) >= HIGH_REASONS:
        return Suggested(Level.HIGH, outside)
    return Suggested(Level.RAISED if len(causes) >= RAISED_REASONS else Level.LOW, outside)


def outside_now(summary: BedSummary, now: datetime) -> tuple[Statement, ...]:
    """What lies outside the ranges this unit set at `now`, more than once."""
    if not summary.adult:
        return ()
    told = (entry.as_of(now) for entry in summary.statements)
    return tuple(entry for entry in told if entry.verdict is Verdict.OUTSIDE)


def is_typed_back(summary: BedSummary, facts: CourseFacts, now: datetime) -> bool:
    """Whether a typed line is wanted (decision 32): raised or high concern, or a flag standing.

    Low concern without a flag is said back aloud, and accepted with one key.
    """
    level, _ = concern_of(facts)
    return level != Level.LOW.value or bool(outside_now(summary, now))


def missing_for_offer(facts: CourseFacts) -> tuple[str, ...]:
    """What still has to be written before this course can be offered, in sentences."""
    missing = []
    level = concern_for_offer(facts)
    if not level:
        missing.append("Choose a level of concern: nobody has for this handoff.")
    if level == Level.HIGH.value and not (facts.if_thens or none_expected(facts)):
        missing.append(
            "High concern needs at least one if-then line, or “none expected” with the reason."
        )
    return tuple(missing)


def concern_for_offer(facts: CourseFacts) -> str:
    """The level chosen since the bed last changed hands: an older one is somebody else's."""
    chosen = [note for note in _since_taken(facts) if note.heading == "concern" and note.level]
    return chosen[-1].level if chosen else ""


def none_expected(facts: CourseFacts) -> str:
    """Why nobody expects anything, as written since the bed last changed hands; empty without."""
    said = [note for note in _since_taken(facts) if note.heading == "if_then"]
    return said[-1].words if said else ""


def _since_taken(facts: CourseFacts) -> list[HandoffNote]:
    taken = handoff_of(facts.handoffs).taken
    return [note for note in facts.notes if taken is None or note.observed_at >= taken.at]
