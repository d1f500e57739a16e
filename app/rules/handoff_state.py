"""Where a handoff stands, who has the bed, and which step is open to whom.

A pure fold over the steps of one course. Decision 10: responsibility moves by acceptance only; an
offer, a question, an answer, words that come late or a look at them move nothing. Before anybody
accepted, nobody has the bed, and pages say so.
"""

from collections.abc import Iterable
from datetime import datetime, timedelta
from enum import StrEnum

from msgspec import Struct
from msgspec.structs import replace

from app.charting.facts import CourseFacts
from app.charting.handing_over import HandoffStep, StepKind

NOBODY_CAME = timedelta(minutes=30)
"""How long an offer stands before the lead may take the bed (a shift gap over 30 min; engineering
judgement, to be ratified by the unit)."""


class Standing(StrEnum):
    """What is on the table for a bed."""

    DRAFT = "draft"
    OFFERED = "offered"
    RETURNED = "returned"
    ACCEPTED = "accepted"
    """Somebody has the bed by acceptance, and nothing is on offer since."""


class Person(Struct, frozen=True):
    """Somebody who acts: their id and name, and whether they lead."""

    id: str
    name: str
    leads: bool = False


NOBODY = Person("", "")


class Handoff(Struct, frozen=True):
    """A bed's handoff after its last step. `offer` is on the table; `taken` moved the bed last."""

    standing: Standing = Standing.DRAFT
    holder: Person = NOBODY
    offer: HandoffStep | None = None
    question: HandoffStep | None = None
    """The question that an offer was returned with and that nobody has answered."""
    taken: HandoffStep | None = None
    versions: int = 0
    """How many offers there were; the next one has the number after."""
    last_id: str = ""
    """Key of the last step; the next one supersedes it, which the database lets happen once."""

    @property
    def offerer_id(self) -> str:
        """Who offered, or for whom a lead did."""
        return self.offer.from_id if self.offer else ""


def handoff_of(steps: Iterable[HandoffStep]) -> Handoff:
    """Fold the steps, oldest first."""
    now = Handoff()
    for step in steps:
        now = replace(_after(now, step), last_id=step.id)
    return now


def _after(before: Handoff, step: HandoffStep) -> Handoff:
    quiet = Standing.ACCEPTED if before.taken else Standing.DRAFT
    match step.kind:
        case StepKind.OFFERED:
            return replace(
                before,
                standing=Standing.OFFERED,
                offer=step,
                question=None,
                versions=max(before.versions, step.version),
            )
        case StepKind.RETURNED:
            return replace(before, standing=Standing.RETURNED, question=step)
        case StepKind.ANSWERED:
            return replace(before, standing=Standing.OFFERED, question=None)
        case StepKind.WITHDRAWN:
            return replace(before, standing=quiet, offer=None, question=None)
        case StepKind.ACCEPTED | StepKind.TAKEN:
            holder = Person(step.author_id, step.author)
            return replace(
                before,
                standing=Standing.ACCEPTED,
                holder=holder,
                offer=None,
                question=None,
                taken=step,
            )
        case _:
            return before


def why_not(kind: StepKind, handoff: Handoff, person: Person, now: datetime) -> str:
    """Why this step is not open to this person now, as a sentence; empty when it is."""
    return _WHY_NOT[kind](handoff, person, now)


def may_step(kind: StepKind, handoff: Handoff, person: Person, now: datetime) -> bool:
    """Whether the step is open to this person now."""
    return not why_not(kind, handoff, person, now)


def _offering(handoff: Handoff, person: Person, _now: datetime) -> str:
    holder = handoff.holder
    if not holder.id or person.id == holder.id or person.leads:
        return ""
    return f"{holder.name} has this bed; {holder.name} or a lead offers it."


def _withdrawing(handoff: Handoff, person: Person, _now: datetime) -> str:
    if handoff.offer is None:
        return "Nothing is on offer."
    return "" if _gave(handoff, person) else "Whoever offered takes it back, or a lead."


def _returning(handoff: Handoff, person: Person, _now: datetime) -> str:
    if handoff.standing is not Standing.OFFERED:
        return "There is no offer to return."
    return _not_the_receiver(handoff, person)


def _answering(handoff: Handoff, person: Person, _now: datetime) -> str:
    if handoff.standing is not Standing.RETURNED:
        return "There is no open question."
    may = _gave(handoff, person) or person.id == handoff.holder.id
    return "" if may else "Whoever offered answers, or a lead."


def _accepting(handoff: Handoff, person: Person, _now: datetime) -> str:
    if handoff.standing is Standing.RETURNED:
        return "The question is not answered yet."
    if handoff.standing is not Standing.OFFERED:
        return "There is no offer to accept."
    return _not_the_receiver(handoff, person)


def _not_the_receiver(handoff: Handoff, person: Person) -> str:
    offer = handoff.offer
    assert offer is not None, "an offer stands"  # noqa: S101 - both callers looked
    if person.id in (offer.from_id, offer.author_id):
        return "You offered it; somebody else accepts."
    if offer.to_id and offer.to_id != person.id:
        return f"It is offered to {offer.to_name}."
    return ""


def _taking(handoff: Handoff, person: Person, now: datetime) -> str:
    if not handoff.holder.id and handoff.offer is None:
        return ""
    if not person.leads:
        return "Only a lead takes a bed over."
    if handoff.offer is None:
        return "Nothing is on offer."
    opens = handoff.offer.at + NOBODY_CAME
    return "" if now >= opens else "The offer has stood for less than 30 minutes."


def _adding(handoff: Handoff, _person: Person, _now: datetime) -> str:
    return "" if handoff.taken else "Nobody has accepted yet: write it under its heading."


def _seeing(handoff: Handoff, _person: Person, _now: datetime) -> str:
    return "" if handoff.taken else "Nobody has accepted yet."


def _gave(handoff: Handoff, person: Person) -> bool:
    offer = handoff.offer
    return person.leads or (offer is not None and person.id in (offer.from_id, offer.author_id))


_WHY_NOT = {
    StepKind.OFFERED: _offering,
    StepKind.WITHDRAWN: _withdrawing,
    StepKind.RETURNED: _returning,
    StepKind.ANSWERED: _answering,
    StepKind.ACCEPTED: _accepting,
    StepKind.TAKEN: _taking,
    StepKind.ADDED: _adding,
    StepKind.SEEN: _seeing,
}


class HandoffNow(Struct, frozen=True):
    """What the board and the round of handoffs need of one bed's handoff; absolute moments only."""

    standing: Standing = Standing.DRAFT
    holder_id: str = ""
    holder: str = ""
    taken_at: datetime | None = None
    taken_from_id: str = ""
    offered_at: datetime | None = None
    offered_by: str = ""
    offered_to_id: str = ""
    offered_to: str = ""
    offer_from_id: str = ""
    asked_by: str = ""
    asked_at: datetime | None = None
    version: int = 0
    concern: str = ""
    concern_words: str = ""
    next_task_at: datetime | None = None

    @property
    def lead_may_take_at(self) -> datetime | None:
        """From when on a lead may take the bed, because nobody came."""
        return self.offered_at + NOBODY_CAME if self.offered_at else None


def handoff_now(facts: CourseFacts) -> HandoffNow:
    """The same for one course, from its facts."""
    handoff = handoff_of(facts.handoffs)
    offer, taken, question = handoff.offer, handoff.taken, handoff.question
    level, words = concern_of(facts)
    due = [task.due_at for task in facts.tasks if task.is_open and task.due_at]
    return HandoffNow(
        standing=handoff.standing,
        holder_id=handoff.holder.id,
        holder=handoff.holder.name,
        taken_at=taken.at if taken else None,
        taken_from_id=taken.from_id if taken else "",
        offered_at=offer.at if offer else None,
        offered_by=offer.from_name or offer.author if offer else "",
        offered_to_id=offer.to_id if offer else "",
        offered_to=offer.to_name if offer else "",
        offer_from_id=offer.from_id if offer else "",
        asked_by=question.author if question else "",
        asked_at=question.at if question else None,
        version=offer.version if offer else 0,
        concern=level,
        concern_words=words,
        next_task_at=min(due, default=None),
    )


def concern_of(facts: CourseFacts) -> tuple[str, str]:
    """The level and reason that a person chose last; empty where nobody chose one."""
    chosen = [note for note in facts.notes if note.heading == "concern" and note.level]
    return (chosen[-1].level, chosen[-1].words) if chosen else ("", "")
