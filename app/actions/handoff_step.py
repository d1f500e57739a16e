"""One step of a handoff: checked against what is open to this person now, written, shown."""

import json
from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.permissions import Role
from app.actions.refresh_summary import refresh_summary
from app.charting.facts import CourseFacts
from app.charting.handing_over import StepKind
from app.record.people import find_person
from app.record.tables import HandoffRow
from app.record.writing import Writing
from app.rules.handoff_state import Handoff, Person, handoff_of, why_not

LONGEST = 1000
"""Characters of a question, an answer or a restatement."""


class StepRefused(ValueError):  # noqa: N818 - it names a state that a page has words for
    """The step is not open to this person now; the sentence says why. Nothing was saved."""


class Step(Struct, frozen=True):
    """What a step says. `version` is the offer that it is about."""

    words: str = ""
    to_id: str = ""
    seen: tuple[str, ...] = ()
    snapshot: str = ""
    snapshot_sha256: str = ""

    def content(self) -> Mapping[str, object]:
        """What makes two sent forms the same."""
        return asdict(self)


def actor(writing: Writing) -> Person:
    """Who writes, as the rules of a handoff see them."""
    found = find_person(writing.session, writing.author_id or "")
    return Person(found.id, found.display_name, leads=found.role == Role.LEAD)


def checked(writing: Writing, kind: StepKind, facts: CourseFacts) -> tuple[Handoff, Person]:
    """Where the handoff stands and who acts. Raises StepRefused when the step is not open."""
    handoff, person = handoff_of(facts.handoffs), actor(writing)
    refusal = why_not(kind, handoff, person, writing.recorded_at)
    if refusal:
        raise StepRefused(refusal)
    if facts.ended_at is not None:
        raise StepRefused("This course has ended; there is nothing to hand over.")
    return handoff, person


def worded(words: str, what: str) -> str:
    """The words of a step that says nothing without them. Raises StepRefused."""
    kept = words.strip()
    if not kept:
        raise StepRefused(f"Write {what} first.")
    if len(kept) > LONGEST:
        raise StepRefused(f"{len(kept)} characters: at most {LONGEST} can be kept.")
    return kept


def write_step(
    writing: Writing, course_id: str, kind: StepKind, before: Handoff, person: Person, step: Step
) -> str:
    """Write a step that was checked; returns its id. One row can follow another once only."""
    giver = _giver(kind, before, person)
    row = HandoffRow(
        supersedes_id=before.last_id or None,
        course_id=course_id,
        state=kind.value,
        from_staff_id=giver or None,
        to_staff_id=_receiver(kind, before, person, step) or None,
        words=step.words,
        snapshot=step.snapshot or None,
        snapshot_sha256=step.snapshot_sha256 or None,
        version=_version(kind, before) or None,
        seen=json.dumps(sorted(step.seen)) if step.seen else None,
        on_behalf=True if _on_behalf(kind, giver, person) else None,
    )
    writing.add_as(f"handoff_{kind.value}", row, course_id=course_id)
    refresh_summary(writing, course_id)
    return row.id


def _giver(kind: StepKind, before: Handoff, person: Person) -> str:
    if kind is StepKind.OFFERED:
        return before.holder.id or person.id
    if kind in (StepKind.ADDED, StepKind.SEEN, StepKind.TAKEN):
        return before.holder.id
    return before.offerer_id


def _receiver(kind: StepKind, before: Handoff, person: Person, step: Step) -> str:
    if kind in (StepKind.ACCEPTED, StepKind.TAKEN):
        return person.id
    return step.to_id or (before.offer.to_id if before.offer else "")


def _version(kind: StepKind, before: Handoff) -> int:
    if kind is StepKind.OFFERED:
        return before.versions + 1
    return before.offer.version if before.offer else 0


def _on_behalf(kind: StepKind, giver: str, person: Person) -> bool:
    """Done by a lead for whoever has the bed or offered it."""
    acts_for_giver = kind in (StepKind.OFFERED, StepKind.WITHDRAWN, StepKind.ANSWERED)
    return acts_for_giver and giver != person.id
