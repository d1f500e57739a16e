"""Accept one bed: the only way, with taking over, in which responsibility moves (decision 10)."""

from msgspec import Struct

from app.actions.handoff_step import Step, StepRefused, checked, worded, write_step
from app.actions.sent_once import did_before, keep_sent
from app.charting.facts import CourseFacts
from app.charting.handing_over import HandoffStep, StepKind
from app.record.courses import course_facts
from app.record.judging import judging
from app.record.writing import Writing
from app.rules.bed_summary import summarise
from app.rules.offering import is_typed_back
from app.rules.since_then import Difference, differences


class Acceptance(Struct, frozen=True):
    """What the receiver says. `version` is the offer that was read; `seen` the keys that were.

    `ticked` says that concern, tasks and if-then were gone through.
    """

    version: int
    restated: str = ""
    ticked: bool = False
    seen: frozenset[str] = frozenset()


class NotAllSeen(StepRefused):
    """Something changed after the offer and was not seen; `differences` holds all there is."""

    def __init__(self, found: tuple[Difference, ...]) -> None:
        super().__init__("Something changed since the offer. It has to be seen before accepting.")
        self.differences = found


def accept_handoff(
    writing: Writing, course_id: str, acceptance: Acceptance, *, save_key: str = ""
) -> str:
    """Take the bed; returns the step's id. Differences are looked for inside this very write.

    Raises NotAllSeen and StepRefused; nothing is saved then.
    """
    content = {
        "version": acceptance.version,
        "restated": acceptance.restated,
        "seen": sorted(acceptance.seen),
    }
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    before, person = checked(writing, StepKind.ACCEPTED, facts)
    offer = before.offer
    if offer is None or offer.version != acceptance.version:
        raise StepRefused("Another version has been offered since. Read it, then accept it.")
    changed = since_offer(writing, facts, offer)
    if not {item.key for item in changed} <= acceptance.seen:
        raise NotAllSeen(changed)
    words = _restated(writing, facts, acceptance)
    step = Step(words=words, seen=tuple(item.key for item in changed))
    row = write_step(writing, course_id, StepKind.ACCEPTED, before, person, step)
    keep_sent(writing, course_id, save_key, content, row)
    return row


def since_offer(writing: Writing, facts: CourseFacts, offer: HandoffStep) -> tuple[Difference, ...]:
    """What is different from the moment of the offer."""
    then = course_facts(writing.session, facts.course_id, until=offer.id)
    return differences(then, facts)


def _restated(writing: Writing, facts: CourseFacts, acceptance: Acceptance) -> str:
    """The receiver's words as they stand; none are wanted where it is said aloud (decision 32)."""
    if not acceptance.ticked:
        raise StepRefused("Go through concern, tasks and if-then, and tick that you have.")
    judge = judging(writing.session, facts.unit_id, writing.recorded_at).of(facts)
    summary = summarise(facts, judge.policy, judge.clock, judge.watching)
    if not is_typed_back(summary, facts, writing.recorded_at):
        return acceptance.restated.strip()
    return worded(acceptance.restated, "in your own words what you take over")
