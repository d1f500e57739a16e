"""Read a handoff for a route: what stands, what came since, and the snapshot of an offer."""

from collections.abc import Mapping

from msgspec import Struct, to_builtins
from msgspec.structs import replace
from sqlmodel import Session

from app.actions.offer_handoff import Draw, Offered
from app.actions.permissions import Act, Role, may
from app.charting.facts import CourseFacts
from app.charting.handing_over import StepKind
from app.pages.handoff_forms import Reader, Typed
from app.pages.handoff_snapshot import snapshot_page
from app.pages.known import known
from app.pages.site_words import SiteWords
from app.record.canonical import as_json, sha256
from app.record.courses import course_facts, find_course
from app.record.errors import NotFound
from app.record.judging import Judging, judging
from app.record.opening import opening
from app.rules.handoff_state import HandoffNow, Person, handoff_of
from app.rules.since_then import Difference, differences, late_items
from app.web.assets import version_of
from app.web.check_form import new_save_key
from app.web.shift_plan import BEFORE_A_SHIFT, read_plan, takers
from app.web.templating import Pages
from app.web.visit import Visit

STYLES = (
    "css/tokens.css",
    "css/base.css",
    "css/reading.css",
    "css/bed.css",
    "css/handoff.css",
    "css/changed.css",
)


class OpenHandoff(Struct, frozen=True):
    """A course with its handoff, as one view of the record gives them."""

    facts: CourseFacts
    judge: Judging
    reader: Reader


def open_handoff(visit: Visit, course_id: str, typed: Typed | None = None) -> OpenHandoff:
    """Read all of it at once. A foreign id answers like an unknown one: NotFound."""
    with visit.reading() as session:
        if find_course(session, course_id).unit_id != visit.unit.id:
            raise NotFound("course", course_id)
        facts = course_facts(session, course_id)
        judge = judging(session, visit.unit.id, visit.now).of(facts)
        reader = Reader(
            person=person_of(visit),
            may_offer=may(visit.person.role, Act.OFFER),
            takers=takers(session),
            assigned_id=_assigned_soon(session, visit, facts),
            save_key=new_save_key(),
            mark=opening(session).text,
            changed=_since_offer(session, facts),
            late=unseen_late(session, facts, person_of(visit)),
        )
    return OpenHandoff(facts, judge, replace(reader, typed=typed or Typed()))


def person_of(visit: Visit) -> Person:
    """Who asks, as the rules of a handoff see them."""
    leads = visit.person.role == Role.LEAD
    return Person(visit.person.id, visit.person.display_name, leads=leads)


def _assigned_soon(session: Session, visit: Visit, facts: CourseFacts) -> str:
    """Who is to have the bed in the shift that a handoff offered now is for."""
    stay = facts.bed_stays[-1] if facts.bed_stays else None
    if stay is None or stay.bed is None:
        return ""
    coming = visit.clock.shift_start(visit.now + BEFORE_A_SHIFT)
    return read_plan(session, visit, coming).assigned_id(stay.bed)


def _since_offer(session: Session, facts: CourseFacts) -> tuple[Difference, ...]:
    offer = handoff_of(facts.handoffs).offer
    if offer is None:
        return ()
    return differences(course_facts(session, facts.course_id, until=offer.id), facts)


def unseen_late(session: Session, facts: CourseFacts, person: Person) -> tuple[Difference, ...]:
    """What reaches back behind the acceptance by which the bed is where it is, for this person.

    It goes to whoever has the bed, to whoever gave it, and to a lead; not to who wrote it.
    """
    taken = handoff_of(facts.handoffs).taken
    if taken is None or not (person.leads or person.id in (taken.author_id, taken.from_id)):
        return ()
    then = course_facts(session, facts.course_id, until=taken.id)
    seen = {
        key
        for step in facts.handoffs
        if step.kind is StepKind.SEEN and step.author_id == person.id
        for key in step.seen
    }
    found = late_items(then, facts, taken.at)
    return tuple(one for one in found if one.key not in seen and one.author != person.name)


def late_counts(
    session: Session, beds: Mapping[str, tuple[str, HandoffNow]], person: Person
) -> dict[str, int]:
    """How many late items wait for this person, by bed.

    Only courses that concern the person are read: each costs as much as its page.
    """
    counts = {}
    for bed, (course_id, told) in beds.items():
        concerned = person.leads or person.id in (told.holder_id, told.taken_from_id)
        if concerned and told.taken_at is not None:
            facts = course_facts(session, course_id)
            counts[bed] = len(unseen_late(session, facts, person))
    return counts


def style_version() -> str:
    """What the snapshot's markup was drawn to be seen with: a hash over the style sheets."""
    return sha256("\n".join(version_of(path) for path in STYLES))[:12]


def drawing(pages: Pages, words: SiteWords) -> Draw:
    """How an offer's snapshot is made: canonical JSON of what it says, and its markup."""

    def draw(facts: CourseFacts, judge: Judging, offered: Offered) -> str:
        course = known(facts, judge.policy, judge.clock, offered.at, words, judge.watching)
        page = snapshot_page(
            course,
            version=offered.version,
            giver=offered.giver,
            offered_by=offered.offered_by,
            to=offered.to,
        )
        fragment = pages.text("parts/_snapshot.html", page)
        return as_json(
            {
                "version": offered.version,
                "style": style_version(),
                "content": to_builtins(page),
                "fragment": fragment,
            }
        )

    return draw
