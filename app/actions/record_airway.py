"""Write down what was done with the airway; the row says the whole airway as it is from then on."""

from collections.abc import Iterator
from datetime import datetime, timedelta

from msgspec.structs import asdict, replace

from app.actions.note_reintubation import note_reintubation
from app.actions.refresh_summary import refresh_summary
from app.actions.refused import ActRefused
from app.actions.rule_tasks import RuleTask, open_rule_tasks
from app.actions.sent_once import did_before, keep_sent
from app.charting.act_time import time_refused
from app.charting.airway_told import AirwayTold
from app.charting.airways import (
    ACT_WORDS,
    EXCHANGED,
    NEW_TUBE,
    PLACED,
    REMOVED,
    REPOSITIONED,
    RESECURED,
    SPARES,
    TRACHEOSTOMY,
    TUBES,
    depth_now,
    has_tube,
)
from app.charting.facts import Airway, CourseFacts
from app.charting.fields import FIELDS
from app.charting.in_force import airway_at
from app.record.courses import course_facts
from app.record.judging import judging
from app.record.tables import AirwayRow
from app.record.writing import Writing

CUFF = "cuff"
"""The rule of the task that reads the cuff of a new tube."""

CUFF_AFTER = timedelta(minutes=30)
"""When the cuff of a new tube is to be read (engineering judgement)."""


class NewAirway(AirwayTold, frozen=True, kw_only=True):
    """What was done and when, with what is known of it; what is left empty stays as it was.

    `act` is one of `charting.airways`: placed, repositioned, re-secured, exchanged, tracheostomy,
    removed. A removal (extubation, decannulation, planned or not) needs nothing else; `category`
    then says what the patient breathes through, "none" unless given.
    """

    act: str
    observed_at: datetime
    why: str = ""


class AirwayRefused(ActRefused):
    """The airway in place does not allow it, or what was said of it cannot be."""


def record_airway(
    writing: Writing, course_id: str, airway: NewAirway, *, save_key: str = ""
) -> str:
    """Keep what was done and bring the board up to it; returns the row's id.

    Raises AirwayRefused for an act that the airway in place does not allow, KeyReused for a key
    that came with other content, and NotFound.
    """
    content = asdict(airway)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    row = row_of(facts, _dated(writing, facts, airway), writing.recorded_at)
    writing.add_as("record_airway", row, course_id=course_id)
    open_rule_tasks(writing, facts, _tasks(airway))
    if airway.act == PLACED and airway.category in TUBES:
        note_reintubation(writing, facts, airway.observed_at)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def _dated(writing: Writing, facts: CourseFacts, airway: NewAirway) -> NewAirway:
    """A tracheostomy with its day in the unit's zone: the day it is written for unless given."""
    if airway.act != TRACHEOSTOMY:
        return airway
    clock = judging(writing.session, facts.unit_id, writing.recorded_at).clock
    today = clock.day(airway.observed_at)
    if airway.stoma_on is not None and airway.stoma_on > today:
        raise AirwayRefused("The day on which it was made is still to come.")
    return replace(airway, stoma_on=airway.stoma_on or today)


def row_of(facts: CourseFacts, airway: NewAirway, now: datetime) -> AirwayRow:
    """The airway after the act. Raises AirwayRefused."""
    before = airway_at(facts.airways, airway.observed_at)
    for sentence in (*_cannot_be_then(facts, airway, now), *act_refused(airway, before)):
        raise AirwayRefused(sentence)
    whole = _after(facts, airway, before)
    return AirwayRow(course_id=facts.course_id, **asdict(whole))


def _cannot_be_then(facts: CourseFacts, airway: NewAirway, now: datetime) -> Iterator[str]:
    if facts.ended_at is not None:
        yield "This course has ended."
    yield from time_refused(facts, airway.observed_at, now)
    if any(row.observed_at > airway.observed_at for row in facts.airways):
        yield "Something later is recorded of the airway. Write this as an event, with its time."


def act_refused(airway: NewAirway, before: Airway | None) -> Iterator[str]:
    """What the airway in place does not allow, in the order in which somebody would see it."""
    if airway.act not in ACT_WORDS:
        yield "Say what was done: pick one of the list."
    if airway.act == PLACED:
        yield from _placing_refused(airway, before)
    elif airway.act == TRACHEOSTOMY:
        yield from _tracheostomy_refused(airway, before)
    elif before is None or not has_tube(before):
        yield f"No tube is in place, so none can be {_DONE[airway.act]}. Record what was placed."
    if airway.act == SPARES and has_tube(before) and before and before.category != "trach":
        yield f"{tube_words(before)} is in place, not a tracheostomy."
    if airway.act == REPOSITIONED and airway.depth_cm is None:
        yield "Write the depth after it was moved."
    if airway.act == EXCHANGED:
        yield from _exchange_refused(airway)
    if airway.depth_cm is not None and not _reference(airway, before):
        yield "Say at which mark the depth was read: teeth, gum, lip, naris or flange."


_DONE = {
    REPOSITIONED: "moved",
    RESECURED: "secured",
    EXCHANGED: "exchanged",
    REMOVED: "removed",
    SPARES: "looked at",
}


def _placing_refused(airway: NewAirway, before: Airway | None) -> Iterator[str]:
    if before is not None and has_tube(before):
        yield f"{tube_words(before)} is in place: record an exchange, or its removal first."
    if airway.category in ("", "none"):
        yield "Say what was placed."


def _tracheostomy_refused(airway: NewAirway, before: Airway | None) -> Iterator[str]:
    if before is not None and before.act != REMOVED and before.category == "trach":
        yield "A tracheostomy is in place: record an exchange of its tube."
    if airway.size_mm is None and not airway.tube_type:
        yield "Write the size of the tube or its type."


def _exchange_refused(airway: NewAirway) -> Iterator[str]:
    if airway.size_mm is None:
        yield "Write the size of the new tube."
    if not airway.why.strip():
        yield "Say why the tube was exchanged."


def tube_words(airway: Airway) -> str:
    """The tube in a few words: "Oral tube 7.5 mm"."""
    label = FIELDS["airway_category"].label_of(airway.category)
    return f"{label} {airway.size_mm:.1f} mm" if airway.size_mm is not None else label


def _reference(airway: NewAirway, before: Airway | None) -> str:
    """Where the depth is read: at the flange of a tracheostomy; for the same tube as before."""
    if airway.depth_reference:
        return airway.depth_reference
    same = airway.act not in (PLACED, TRACHEOSTOMY) and airway.category in (
        "",
        before.category if before is not None else "",
    )
    return before.depth_reference if before is not None and same else ""


def _after(facts: CourseFacts, airway: NewAirway, before: Airway | None) -> NewAirway:
    """The whole airway: what the act says, and what it leaves as it was."""
    said = replace(airway, why=airway.why.strip(), words=airway.words.strip())
    if airway.act == REMOVED:
        known = {name: getattr(before, name) for name in ("difficult", "stoma_on")}
        return replace(said, category=airway.category or "none", **known)
    if before is None:
        return replace(said, category="trach") if airway.act == TRACHEOSTOMY else said
    if airway.act in (PLACED, TRACHEOSTOMY):
        category = "trach" if airway.act == TRACHEOSTOMY else said.category
        return replace(said, category=category, difficult=said.difficult or before.difficult)
    said = replace(said, depth_reference=_reference(airway, before))
    kept = _OF_THE_PATIENT if airway.act == EXCHANGED else (*_OF_THE_PATIENT, *_OF_THE_TUBE)
    stays = {name: getattr(before, name) for name in kept if not getattr(said, name)}
    if airway.act in (RESECURED, SPARES):
        stays["depth_cm"] = depth_now(facts, before, airway.observed_at)
    return replace(said, **stays)


_OF_THE_PATIENT = ("category", "difficult", "stoma_on", "may_change")
_OF_THE_TUBE = (
    "size_mm",
    "side",
    "tube_type",
    "confirmed_by",
    "confirmed_how",
    "inner_cannula",
    "spare_same",
    "spare_smaller",
)


def _tasks(airway: NewAirway) -> tuple[RuleTask, ...]:
    """The cuff of a new tube is read again: a pressure of the old one says nothing of it."""
    has_cuff = airway.act in NEW_TUBE - {REMOVED} and (airway.category or "trach") in TUBES
    if not has_cuff:
        return ()
    due = airway.observed_at + CUFF_AFTER
    return (RuleTask(CUFF, "Cuff pressure of the new tube", due),)
