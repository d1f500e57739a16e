"""Offer a bed to the next shift: what is on the page is frozen, and nothing else moves."""

from collections.abc import Callable
from datetime import datetime

from msgspec import Struct

from app.actions.choose_concern import choose_concern
from app.actions.handoff_step import Step, StepRefused, actor, checked, write_step
from app.actions.permissions import Act, may
from app.actions.sent_once import did_before, keep_sent
from app.charting.facts import CourseFacts
from app.charting.handing_over import StepKind
from app.record.canonical import sha256
from app.record.courses import course_facts
from app.record.judging import Judging, judging
from app.record.people import find_person
from app.record.writing import Writing
from app.rules.offering import missing_for_offer


class Offer(Struct, frozen=True):
    """What the giver says with the offer. `to_id` empty is whoever comes; a level may be new."""

    to_id: str = ""
    level: str = ""
    reason: str = ""


class Offered(Struct, frozen=True):
    """Which offer a snapshot belongs to, in words that it can hold for ever."""

    version: int
    at: datetime
    giver: str
    offered_by: str
    to: str


Draw = Callable[[CourseFacts, Judging, Offered], str]
"""Makes the snapshot's text from what is known at the moment of the offer."""


def offer_handoff(
    writing: Writing, course_id: str, offer: Offer, draw: Draw, *, save_key: str = ""
) -> str:
    """Freeze the page and put it on offer; returns the step's id. The holder stays the same.

    Raises StepRefused with a sentence when something is missing or the step is not open.
    """
    content = {"offer": offer}
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    if offer.level:
        choose_concern(writing, course_id, offer.level, offer.reason)
    facts = course_facts(writing.session, course_id)
    before, person = checked(writing, StepKind.OFFERED, facts)
    missing = missing_for_offer(facts)
    if missing:
        raise StepRefused(" ".join(missing))
    judge = judging(writing.session, facts.unit_id, writing.recorded_at).of(facts)
    to = _receiver(writing, offer.to_id, before.holder.id or person.id)
    made = Offered(
        version=before.versions + 1,
        at=writing.recorded_at,
        giver=before.holder.name or person.name,
        offered_by=person.name,
        to=to,
    )
    text = draw(facts, judge, made)
    step = Step(to_id=offer.to_id, snapshot=text, snapshot_sha256=sha256(text))
    row = write_step(writing, course_id, StepKind.OFFERED, before, person, step)
    keep_sent(writing, course_id, save_key, content, row)
    return row


def _receiver(writing: Writing, to_id: str, giver_id: str) -> str:
    if not to_id:
        return ""
    found = find_person(writing.session, to_id)
    if to_id in (giver_id, actor(writing).id):
        raise StepRefused("A bed is offered to somebody else.")
    if not found.active or not may(found.role, Act.OFFER):
        raise StepRefused(f"{found.display_name} takes no beds here.")
    return found.display_name
