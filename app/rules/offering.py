"""What has to be there before a handoff is offered, and how it has to be said back.

The level of concern is a person's; the record only suggests one, with its reasons.
"""

from datetime import datetime

from msgspec import Struct

from app.charting.facts import CourseFacts, HandoffNote
from app.charting.handing_over import Level
from app.rules.bed_summary import BedSummary
from app.rules.flags_now import GroupNow
from app.rules.handoff_state import concern_of, handoff_of

HIGH_REASONS = 2
"""How many causes with an open flag suggest high concern (engineering judgement); safety is told
apart and by itself suggests raised."""


class Suggested(Struct, frozen=True):
    """A level with the flags it rests on, by cause; a person chooses, with or against it."""

    level: Level
    groups: tuple[GroupNow, ...]


def suggested_concern(summary: BedSummary, now: datetime) -> Suggested:
    """Low without a flag; raised with one cause, high with two or more."""
    flags = flags_standing(summary, now)
    if sum(not group.safety for group in flags) >= HIGH_REASONS:
        return Suggested(Level.HIGH, flags)
    return Suggested(Level.RAISED if flags else Level.LOW, flags)


def flags_standing(summary: BedSummary, now: datetime) -> tuple[GroupNow, ...]:
    """The causes with an open flag at `now`; none for a child, for whom adult rules are off."""
    return summary.flags_at(now) if summary.adult else ()


def is_typed_back(summary: BedSummary, facts: CourseFacts, now: datetime) -> bool:
    """Whether a typed line is wanted (decision 32): raised or high concern, or a flag standing.

    Low concern without a flag is said back aloud, and accepted with one key.
    """
    level, _ = concern_of(facts)
    return level != Level.LOW.value or bool(flags_standing(summary, now))


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
