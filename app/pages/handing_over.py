"""Who has a bed and where its handoff stands, in words; the same words on every page."""

from datetime import datetime

from app.charting.facts import CourseFacts
from app.charting.handing_over import HandoffStep, StepKind
from app.pages.handoff_page import ThreadLine
from app.pages.times import clock_time, when_in
from app.rules.handoff_state import Handoff, HandoffNow, Standing
from app.rules.unit_clock import UnitClock

NOBODY_YET = "Nobody has this bed yet"
LEVEL_WORDS = {"low": "Low concern", "raised": "Raised concern", "high": "High concern"}


def standing_words(handoff: Handoff, clock: UnitClock, now: datetime) -> tuple[str, str]:
    """The line over the page and what follows it: where the handoff stands, who has the bed."""
    has = holder_words(handoff, clock, now)
    if handoff.standing is Standing.RETURNED and handoff.question is not None:
        asked = handoff.question
        return (
            f"Returned by {asked.author}, {clock_time(asked.at, now, clock)}",
            f"{has} Version {asked.version} waits for an answer.",
        )
    if handoff.standing is Standing.OFFERED and handoff.offer is not None:
        offer = handoff.offer
        to = offer.to_name or "whoever comes"
        at = clock_time(offer.at, now, clock)
        return (
            f"Offered to {to}",
            f"{has} Offered {at} by {_by(offer)}, version {offer.version}.",
        )
    if handoff.standing is Standing.ACCEPTED:
        return (has.rstrip("."), "Nothing is on offer.")
    return ("Draft", f"{has} Nothing is on offer.")


def holder_words(handoff: Handoff, clock: UnitClock, now: datetime) -> str:
    """Who has the bed, since when and how it came to them; a sentence."""
    taken = handoff.taken
    if taken is None:
        return f"{NOBODY_YET}: nobody has accepted it."
    at = clock_time(taken.at, now, clock)
    if taken.kind is StepKind.TAKEN:
        how = f"taken over from {taken.from_name} {at}" if taken.from_name else f"taken {at}"
        before = "" if taken.from_name else "; before that nobody had it"
        return f"{taken.author} has this bed: {how}, not handed over{before}."
    giver = f" from {taken.from_name}" if taken.from_name else ""
    return f"{taken.author} has this bed, accepted{giver} {at}."


def _by(step: HandoffStep) -> str:
    return f"{step.author} for {step.from_name}" if step.on_behalf else step.author


def hold_words(told: HandoffNow, clock: UnitClock, now: datetime) -> str:
    """The same in one short line, for a row of the board: "Ash has it; offered to Birch 18:40"."""
    has = f"{told.holder} has it" if told.holder else "Nobody has it yet"
    if told.standing is Standing.RETURNED and told.asked_at is not None:
        return f"{has}; returned by {told.asked_by} {clock_time(told.asked_at, now, clock)}"
    if told.standing is Standing.OFFERED and told.offered_at is not None:
        to = told.offered_to or "whoever comes"
        return f"{has}; offered to {to} {clock_time(told.offered_at, now, clock)}"
    return has


_DID = {
    StepKind.WITHDRAWN: "took the offer back",
    StepKind.RETURNED: "asked",
    StepKind.ANSWERED: "answered",
    StepKind.ADDED: "added late",
    StepKind.SEEN: "saw what came late",
}


def thread_of(facts: CourseFacts, clock: UnitClock, now: datetime) -> tuple[ThreadLine, ...]:
    """Every step since the one by which the bed came to who has it, that one included."""
    steps = facts.handoffs
    moves = [i for i, step in enumerate(steps) if step.kind in (StepKind.ACCEPTED, StepKind.TAKEN)]
    first = moves[-2] if len(moves) > 1 and moves[-1] == len(steps) - 1 else (moves or [0])[-1]
    return tuple(_thread_line(step, facts, clock, now) for step in steps[first:])


def _thread_line(
    step: HandoffStep, facts: CourseFacts, clock: UnitClock, now: datetime
) -> ThreadLine:
    is_offer = step.kind is StepKind.OFFERED
    return ThreadLine(
        did=_did(step),
        words=step.words,
        author=_by(step),
        when=when_in(step.at, now, clock),
        href=f"/courses/{facts.course_id}/handoffs/{step.version}" if is_offer else "",
    )


def _did(step: HandoffStep) -> str:
    if step.kind is StepKind.OFFERED:
        return f"offered version {step.version} to {step.to_name or 'whoever comes'}"
    if step.kind is StepKind.ACCEPTED:
        told = "accepted, saying back" if step.words else "accepted, said back aloud"
        seen = f"; {len(step.seen)} differences seen" if len(step.seen) > 1 else ""
        return f"{told}{'; 1 difference seen' if len(step.seen) == 1 else seen}"
    if step.kind is StepKind.TAKEN:
        return f"took over from {step.from_name}" if step.from_name else "took the bed"
    return _DID[step.kind]
