"""How words, plans and the steps of a handoff get into the record: by the actions of a person."""

import re
from collections.abc import Mapping

from app.actions.accept_handoff import Acceptance, accept_handoff
from app.actions.add_task import NewTask, add_task
from app.actions.choose_concern import choose_concern
from app.actions.offer_handoff import Offer, offer_handoff
from app.actions.take_over import take_over
from app.actions.write_handoff_note import write_handoff_note
from app.actions.write_if_then import Line, write_if_then
from app.charting.handing_over import Source
from app.pages.site_words import SiteWords
from app.record.courses import course_facts
from app.record.writing import Writing
from app.rules.handoff_state import handoff_of
from app.rules.since_then import differences
from app.web.handoffs import drawing
from app.web.templating import Pages
from seed_demo.entries import Accepted, Entry, Offered, Planned, Taken

BEGINS_HERE = "Taken where this demo begins; known from the days before."
IF_THEN = re.compile(r"If (?P<measure>.+?), then (?P<action>.+?)\.?$", re.DOTALL)
NONE_EXPECTED = "None expected: "
PAGES = Pages()
DRAW = drawing(PAGES, SiteWords())


def note(writing: Writing, course_id: str, heading: str, words: str) -> None:
    """Words under a heading; a concern with its level, an if-then sentence as a line."""
    if heading == "concern":
        level, _, reason = words.partition(". ")
        choose_concern(writing, course_id, level.lower(), reason)
    elif heading == "if_then" and (found := IF_THEN.match(words)):
        line = Line(found["measure"], "", action=found["action"], call="Dr Oak")
        write_if_then(writing, course_id, line)
    else:
        write_handoff_note(writing, course_id, heading, words.removeprefix(NONE_EXPECTED))


def hand_over(writing: Writing, course_id: str, entry: Entry, people: Mapping[str, str]) -> None:
    """A plan, or one step of a handoff."""
    match entry:
        case Planned():
            _plan(writing, course_id, entry)
        case Taken():
            take_over(writing, course_id, BEGINS_HERE)
        case Offered():
            offer_handoff(writing, course_id, Offer(people[entry.to]), DRAW)
        case Accepted():
            _accept(writing, course_id, entry)


def _plan(writing: Writing, course_id: str, entry: Planned) -> None:
    for task in entry.plan.tasks:
        due_at = (entry.recorded_at + task.after).replace(minute=0, second=0, microsecond=0)
        new = NewTask(task.words, due_at, task.owner, Source(task.source))
        add_task(writing, course_id, new)
    for line in entry.plan.lines:
        write_if_then(writing, course_id, line)
    if not (entry.plan.tasks or entry.plan.lines):
        writing.audit("nothing_planned", course_id=course_id)


def _accept(writing: Writing, course_id: str, entry: Accepted) -> None:
    """Everything that changed since the offer is looked at first, as at the bed."""
    facts = course_facts(writing.session, course_id)
    offer = handoff_of(facts.handoffs).offer
    if offer is None:
        raise ValueError("there is no offer to accept")
    then = course_facts(writing.session, course_id, until=offer.id)
    seen = frozenset(item.key for item in differences(then, facts))
    acceptance = Acceptance(offer.version, entry.restated, ticked=True, seen=seen)
    accept_handoff(writing, course_id, acceptance)
