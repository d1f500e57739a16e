"""Move a patient: to an empty bed, against another patient, out of the unit, and back into a bed.

Record, tasks and handoff follow the patient. What belongs to the place (machine, rescue gear,
outlets) is to be looked at in the new one.
"""

from collections.abc import Mapping
from datetime import datetime, timedelta
from enum import StrEnum

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.refresh_summary import refresh_summary
from app.actions.refused import ActRefused
from app.actions.rule_tasks import RuleTask, close_rule_task, open_rule_tasks
from app.actions.sent_once import did_before, keep_sent
from app.charting.act_time import time_refused
from app.charting.course_ends import LONGEST_WORDS
from app.charting.facts import CourseFacts
from app.record.beds import Bed, bed_id_of, find_bed, free_since, move, occupants
from app.record.courses import course_facts
from app.record.errors import NotFound
from app.record.judging import judging
from app.record.writing import Writing

GEAR = "gear_in_place"
"""The rule of the task that asks for a look at machine, gear and outlets in the new place."""

GEAR_AFTER = timedelta(minutes=30)
"""When they are to be looked at after a move (engineering judgement)."""


class Way(StrEnum):
    """How a patient moves."""

    BED = "bed"
    SWAP = "swap"
    OUT = "out"


class Move(Struct, frozen=True):
    """One move. `bed` is the code of an empty bed, `other` the course of whom to change with.

    `words` say where to, or why; somebody who leaves the unit needs them.
    """

    way: Way
    from_at: datetime
    bed: str = ""
    other: str = ""
    words: str = ""


class PlaceRefused(ActRefused):
    """The patient cannot come, go or change places so."""


def move_patient(writing: Writing, course_id: str, to: Move, *, save_key: str = "") -> str:
    """Write the move, of both patients at once where two change places; returns the course's id.

    Raises PlaceRefused for a move that cannot be, KeyReused, and NotFound for an unknown course.
    """
    content = asdict(to)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    facts = course_facts(writing.session, course_id)
    moved = {course_id: facts}
    if to.way is Way.SWAP:
        moved[to.other] = _other(writing, facts, to)
    for each in moved.values():
        refuse_time(writing, each, to.from_at)
    move(writing, _places(writing, facts, to), to.from_at, to.words.strip())
    for key, each in moved.items():
        writing.audit("move_patient", course_id=key, detail={"way": to.way.value})
        look_at_gear(writing, each, to.from_at)
        refresh_summary(writing, key)
    keep_sent(writing, course_id, save_key, content, course_id)
    return course_id


def refuse_time(writing: Writing, facts: CourseFacts, from_at: datetime) -> None:
    """Raises PlaceRefused for a course that ended, and for a time at which nobody can move."""
    if facts.ended_at is not None:
        raise PlaceRefused("This course is closed. Take its end back first.", facts.course_id)
    for sentence in time_refused(facts, from_at, writing.recorded_at):
        raise PlaceRefused(sentence)
    if facts.bed_stays and from_at < facts.bed_stays[-1].from_at:
        at = _clock_time(writing, facts, facts.bed_stays[-1].from_at)
        raise PlaceRefused(f"A later move is written already, at {at}. Write a time after it.")


def empty_bed(writing: Writing, facts: CourseFacts, code: str, from_at: datetime) -> Bed:
    """The bed with that code, free from then on. Raises PlaceRefused."""
    try:
        bed = find_bed(writing.session, facts.unit_id, code)
    except NotFound:
        raise PlaceRefused("Pick the bed: there is none in use by that name.") from None
    there = occupants(writing.session, facts.unit_id).get(bed.id)
    if there == facts.course_id:
        raise PlaceRefused(f"The patient is in {code} already.")
    if there is not None:
        sentence = f"{code} is taken: somebody is in it. Pick an empty bed, or let both change."
        raise PlaceRefused(sentence, there)
    free = free_since(writing.session, bed.id, facts.course_id)
    if free is not None and from_at < free:
        at = _clock_time(writing, facts, free)
        raise PlaceRefused(f"Somebody else was in {code} until {at}. Write a time after it.")
    return bed


def look_at_gear(writing: Writing, before: CourseFacts, from_at: datetime) -> None:
    """Ask for a look in the place where the patient is now, and no more for the one before."""
    after = course_facts(writing.session, before.course_id)
    place = after.bed_stays[-1].bed
    for task in before.tasks:
        if task.rule == GEAR and task.is_open:
            close_rule_task(writing, before.course_id, task, f"moved on to {place or 'no bed'}")
    if place is not None:
        words = f"Machine, rescue gear and outlets in {place} looked at"
        after = course_facts(writing.session, before.course_id)
        open_rule_tasks(writing, after, [RuleTask(GEAR, words, from_at + GEAR_AFTER)])


def _places(writing: Writing, facts: CourseFacts, to: Move) -> Mapping[str, str | None]:
    """Where everybody who moves is afterwards."""
    here = bed_id_of(writing.session, facts.course_id)
    if len(to.words.strip()) > LONGEST_WORDS:
        raise PlaceRefused(f"{len(to.words.strip())} characters: it takes {LONGEST_WORDS}.")
    if to.way is Way.SWAP:
        return {facts.course_id: bed_id_of(writing.session, to.other), to.other: here}
    if to.way is Way.BED:
        return {facts.course_id: empty_bed(writing, facts, to.bed, to.from_at).id}
    if here is None:
        raise PlaceRefused("The patient is in no bed of this unit already.")
    if not to.words.strip():
        raise PlaceRefused("Say where the patient went.")
    return {facts.course_id: None}


def _other(writing: Writing, facts: CourseFacts, to: Move) -> CourseFacts:
    """Whom the patient changes places with. Raises PlaceRefused unless both are in a bed."""
    session = writing.session
    if to.other in ("", facts.course_id):
        raise PlaceRefused("Pick the other patient.")
    try:
        other = course_facts(session, to.other)
    except NotFound:
        raise PlaceRefused("Pick the other patient.") from None
    if other.unit_id != facts.unit_id or bed_id_of(session, to.other) is None:
        raise PlaceRefused("The other patient is in no bed of this unit any more. Look again.")
    if bed_id_of(session, facts.course_id) is None:
        raise PlaceRefused("The patient is in no bed of this unit, so none can be changed.")
    return other


def _clock_time(writing: Writing, facts: CourseFacts, moment: datetime) -> str:
    local = judging(writing.session, facts.unit_id, writing.recorded_at).clock.local(moment)
    return f"{local:%H:%M} on {local.day} {local:%b}"
