"""What one reader can do about a handoff now: the forms of the page, and nothing they cannot do."""

from collections.abc import Mapping

from msgspec import Struct, field

from app.charting.handing_over import HandoffStep, Level, StepKind
from app.pages.difference_words import difference_line
from app.pages.flag_words import group_words
from app.pages.handing_over import LEVEL_WORDS
from app.pages.handoff_danger import dangers
from app.pages.handoff_page import AcceptForm, Choice, Deeds, LateForm, OfferForm, WordsForm
from app.pages.known import Known
from app.pages.muted_words import muted_short
from app.pages.times import clock_time
from app.rules.handoff_state import Handoff, Person, handoff_of, may_step, why_not
from app.rules.offering import concern_for_offer, is_typed_back, suggested_concern
from app.rules.since_then import Difference


class Typed(Struct, frozen=True):
    """What a form brought back that was not saved, and why."""

    error: str = ""
    level: str = ""
    reason: str = ""
    to_id: str = ""
    restated: str = ""
    seen: frozenset[str] = frozenset()
    words: Mapping[str, str] = field(default_factory=dict)
    beside: tuple[tuple[str, str], ...] = ()
    """Label and text of what stands in no form of the page any more."""


class Reader(Struct, frozen=True):
    """Who looks at the page, what they may, and what came since they or somebody accepted."""

    person: Person
    may_offer: bool
    takers: tuple[tuple[str, str], ...]
    """Id and name of everybody who can take a bed here."""
    save_key: str
    assigned_id: str = ""
    """Who is to have the bed in the shift that comes; the plan, which chooses nobody here."""
    mark: str = ""
    """How far the record had come when the page was read."""
    changed: tuple[Difference, ...] = ()
    late: tuple[Difference, ...] = ()
    typed: Typed = field(default_factory=Typed)


def deeds_of(course: Known, reader: Reader) -> Deeds:
    """Every form that is open to this reader."""
    handoff = handoff_of(course.facts.handoffs)
    if not reader.may_offer or course.facts.ended_at is not None:
        return Deeds(reader.save_key, error=reader.typed.error)
    base = f"/courses/{course.facts.course_id}/handoff"

    def open_to(kind: StepKind) -> bool:
        return may_step(kind, handoff, reader.person, course.now)

    accepts = open_to(StepKind.ACCEPTED)
    return Deeds(
        save_key=reader.save_key,
        error=reader.typed.error,
        offer=_offer(base, handoff, course, reader) if open_to(StepKind.OFFERED) else None,
        accept=_accept(base, handoff.offer, course, reader) if accepts and handoff.offer else None,
        late=_late(base, course, reader),
        boxes=tuple(
            WordsForm(kind.value, f"{base}/{path}", label, button, reader.typed.words.get(path, ""))
            for kind, path, label, button in BOXES
            if open_to(kind)
        ),
        withdraw_action=f"{base}/withdraw" if open_to(StepKind.WITHDRAWN) else "",
        waiting=_waiting(handoff, course, reader),
    )


BOXES = (
    (StepKind.ANSWERED, "answer", "Your answer", "Answer; the offer stands again"),
    (StepKind.RETURNED, "return", "Your question", "Return it with this question"),
    (StepKind.TAKEN, "take", "What you know of this patient, in your own words", "Take this bed"),
    (StepKind.ADDED, "late", "What came late", "Add it for whoever has the bed"),
)


def _offer(base: str, handoff: Handoff, course: Known, reader: Reader) -> OfferForm:
    giver = handoff.holder.id or reader.person.id
    chosen_to = reader.typed.to_id or (handoff.offer.to_id if handoff.offer else "")
    level = reader.typed.level or concern_for_offer(course.facts)
    receivers = [Choice("", "whoever comes", not chosen_to)]
    for key, name in reader.takers:
        if key not in (giver, reader.person.id):
            label = f"{name} (assigned)" if key == reader.assigned_id else name
            receivers.append(Choice(key, label, key == chosen_to))
    on_behalf = giver != reader.person.id
    verb = "Offer again" if handoff.offer else "Offer"
    return OfferForm(
        action=f"{base}/offer",
        button=f"{verb} {_named(course)}{f' for {handoff.holder.name}' if on_behalf else ''}",
        receivers=tuple(receivers),
        levels=tuple(
            Choice(each.value, LEVEL_WORDS[each.value].removesuffix(" concern"), each == level)
            for each in Level
        ),
        suggested=suggestion_words(course),
        reason=reader.typed.reason,
    )


def suggestion_words(course: Known) -> str:
    """What the record suggests and why; it never chooses."""
    suggested = suggested_concern(course.summary, course.now)
    why = "; ".join(
        group_words(group, course.now, course.clock, course.words)[0] for group in suggested.groups
    )
    muted = course.summary.muted
    reasons = f"flagged: {why}" if why else "no flag raised"
    if muted is not None:
        return f"The record suggests nothing: {muted_short(muted, course.now, course.clock)}."
    weighed = " What stands under Danger is not weighed in it." if any(dangers(course)) else ""
    return f"The record suggests {suggested.level.value}: {reasons}.{weighed}"


def _named(course: Known) -> str:
    stay = course.facts.bed_stays[-1] if course.facts.bed_stays else None
    bed = stay.bed if stay and stay.bed else "no bed"
    return f"{bed}, {course.facts.identity.name}"


def _accept(base: str, offer: HandoffStep, course: Known, reader: Reader) -> AcceptForm:
    at = clock_time(offer.at, course.now, course.clock)
    return AcceptForm(
        action=f"{base}/accept",
        button=f"Accept {_named(course)} from {offer.from_name}",
        version=offer.version,
        version_words=f"You accept version {offer.version}, as offered {at}. Until you press, "
        f"the bed is not yours.",
        typed=is_typed_back(course.summary, course.facts, course.now),
        restated=reader.typed.restated,
        differences=tuple(
            difference_line(item, course, reader.typed.seen) for item in reader.changed
        ),
    )


def _late(base: str, course: Known, reader: Reader) -> LateForm | None:
    items = tuple(difference_line(item, course) for item in reader.late)
    return LateForm(f"{base}/seen", items) if items else None


def _waiting(handoff: Handoff, course: Known, reader: Reader) -> str:
    """Why the button that somebody looks for is not there."""
    if handoff.offer is None:
        return ""
    return why_not(StepKind.ACCEPTED, handoff, reader.person, course.now)
