"""One difference since an offer or an acceptance as a line that can be read and ticked."""

from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from typing import TypeVar

from app.charting.airways import ACT_WORDS
from app.charting.event_facts import Event
from app.charting.facts import (
    Airway,
    Assessment,
    BedStay,
    BodySize,
    HandoffNote,
    Identity,
    Kind,
    OwnRange,
    Reading,
    Targets,
)
from app.charting.fields import FIELDS
from app.charting.handing_over import HandoffStep, IfThen, Task
from app.charting.reasons import not_done
from app.charting.shown import shown
from app.charting.treatments import Treatment
from app.pages.change_words import value_words, what_changed
from app.pages.episode_words import detail_words
from app.pages.gas_words import specimen_words
from app.pages.handing_over import LEVEL_WORDS
from app.pages.handoff_page import DifferenceLine
from app.pages.if_then_words import if_words
from app.pages.known import Known
from app.pages.own_range_words import own_range_words
from app.pages.target_words import targets_words
from app.pages.times import clock_time, when_in
from app.pages.treatment_words import given_words, ordered_words
from app.pages.values import reading_text
from app.physiology.answer import Value
from app.physiology.catalogue import CATALOGUE
from app.rules.changes import changes_since
from app.rules.due_treatments import treatment_name
from app.rules.since_then import Difference, What

KINDS = {Kind.FULL: "full check", Kind.BRIEF: "brief check", Kind.GAS: "gas", Kind.EVENT: "event"}
GAS_TOLD = ("ph", "paco2", "pao2")
Fact = TypeVar("Fact")


def difference_line(
    item: Difference, course: Known, seen: frozenset[str] = frozenset()
) -> DifferenceLine:
    """The line; `seen` are keys that the reader has ticked already."""
    words, detail = _TOLD[item.what](item, course)
    return DifferenceLine(
        key=item.key,
        words=words,
        detail=detail,
        when=when_in(item.at, course.now, course.clock) if item.at else None,
        author=item.author,
        ticked=item.key in seen,
    )


def _new_row(item: Difference, course: Known) -> tuple[str, str]:
    row = _as(item.after, Assessment)
    told = [*_steps(row.observed_at, course), *_gas(row, course)]
    return f"New {KINDS[row.kind]}", "; ".join(told)


def _steps(at: datetime, course: Known) -> Iterator[str]:
    before = at - timedelta(microseconds=1)
    for step in changes_since(course.facts, before, course.policy):
        if step.at == at and step.before is not None:
            was = value_words(step.key, step.before, course.words)
            now = value_words(step.key, step.after, course.words)
            yield f"{what_changed(step.key, course.words)} {was} → {now}"


def _gas(row: Assessment, course: Known) -> Iterator[str]:
    for code in GAS_TOLD:
        reading = row.readings.get(code)
        if reading is not None and reading.number is not None:
            yield f"{FIELDS[code].name} {shown(course.words.fields[code], reading.number)}"
    if row.kind is Kind.GAS and (specimen := specimen_words(row)):
        yield specimen


def _corrected(item: Difference, course: Known) -> tuple[str, str]:
    after = _as(item.after, Reading)
    field = FIELDS[after.field]
    before = item.before
    was = _reading(before, course) if isinstance(before, Reading) else "nothing"
    return f"{field.label} corrected: {was} → {_reading(after, course)}", after.why


def _reading(reading: Reading, course: Known) -> str:
    field = course.words.fields[reading.field]
    if not reading.has_value:
        return not_done(field.name, reading.reason)
    return reading_text(field, reading)


def _struck(item: Difference, _course: Known) -> tuple[str, str]:
    row = _as(item.after, Assessment)
    what = KINDS[row.kind].capitalize()
    return f"{what} no longer counts", f"struck: {row.struck}" if row.struck else ""


def _moved(item: Difference, _course: Known) -> tuple[str, str]:
    after = _as(item.after, BedStay)
    was = item.before.bed if isinstance(item.before, BedStay) and item.before.bed else "no bed"
    to = after.bed or "no bed of this unit"
    return f"Moved from {was} to {to}", f"rescue gear and outlets at {to} looked at"


def _airway(item: Difference, _course: Known) -> tuple[str, str]:
    after = _as(item.after, Airway)
    label = FIELDS["airway_category"].label_of(after.category)
    size = f" {after.size_mm} mm" if after.size_mm is not None else ""
    told = f"Airway: {label}{size}, {ACT_WORDS.get(after.act, after.act).lower()}"
    return told, "; ".join(filter(None, (after.why, after.words)))


def _body(item: Difference, course: Known) -> tuple[str, str]:
    after = _as(item.after, BodySize)
    was = item.before if isinstance(item.before, BodySize) else after.corrected_from
    from_height = f"{_height(was)} → " if was is not None else ""
    told = []
    if course.summary.adult:
        before = f", was {_weight(was)}" if was is not None else ""
        told.append(f"predicted weight {_weight(after)}{before}; what rests on it follows")
    return f"Height: {from_height}{_height(after)}", "; ".join(filter(None, (*told, after.why)))


def _weight(size: BodySize) -> str:
    answer = CATALOGUE["pbw"].work_out({"sex": size.pbw_sex, "height": size.height_cm})
    return f"{answer.shown} kg" if isinstance(answer, Value) else "not known"


def _height(size: BodySize) -> str:
    if size.height_cm is None:
        return "not known"
    return f"{shown(FIELDS['height_cm'], size.height_cm)} cm"


_NAMED = {
    "name": "name",
    "record_number": "record number",
    "code_limits": "treatment limits",
    "isolation": "isolation",
    "allergies": "allergies",
    "reason_for_support": "reason for support",
}


def _identity(item: Difference, _course: Known) -> tuple[str, str]:
    before, after = _as(item.before, Identity), _as(item.after, Identity)
    told = [
        f"{label}: {getattr(before, name) or 'not stated'} → {getattr(after, name) or 'not stated'}"
        for name, label in _NAMED.items()
        if getattr(before, name) != getattr(after, name)
    ]
    return "Who the patient is was written anew", "; ".join(told)


def _orders(item: Difference, _course: Known) -> tuple[str, str]:
    after = _as(item.after, Targets)
    words = targets_words(after) or "no target"
    return "Orders written anew", f"{words}, {after.ordered_by}".rstrip(", ")


def _own_range(item: Difference, course: Known) -> tuple[str, str]:
    after = _as(item.after, OwnRange)
    words = own_range_words(after, course.words)
    return f"This patient's own range: {words}", f"{after.ordered_by}: {after.why}"


def _event(item: Difference, course: Known) -> tuple[str, str]:
    after = _as(item.after, Event)
    ended = after.ended_at
    until = f"ended {clock_time(ended, course.now, course.clock)}" if ended else ""
    more = detail_words(after.said[-1]) if item.before is not None and after.said else ""
    return after.words or after.kind, "; ".join(filter(None, (until, more)))


def _event_corrected(item: Difference, course: Known) -> tuple[str, str]:
    after = _as(item.after, Event)
    put = after.put_right[-1]
    at = clock_time(put.at, course.now, course.clock)
    if put.struck:
        return f"{after.words}: its end at {at} no longer counts", f"struck: {put.why}"
    was = ", ".join(filter(None, (at, put.words)))
    end = "its end " if put.of_end else ""
    return f"{after.words}: {end}corrected, was {was}", put.why


def _event_struck(item: Difference, _course: Known) -> tuple[str, str]:
    after = _as(item.after, Event)
    return f"No longer counts: {after.words}", f"struck: {after.struck}"


def _task(item: Difference, course: Known) -> tuple[str, str]:
    after = _as(item.after, Task)
    due = clock_time(after.due_at, course.now, course.clock) if after.due_at else "no time given"
    state = {"open": f"to do, {due}", "moved": f"moved to {due}", "done": "done"}
    return f"Task: {after.words}", ": ".join(
        filter(None, (state.get(after.state.value, "not done"), after.reason))
    )


def _treatment(item: Difference, course: Known) -> tuple[str, str]:
    after = _as(item.after, Treatment)
    if after.stopped_at is not None:
        at = clock_time(after.stopped_at, course.now, course.clock)
        return f"Inhaled treatment stopped: {treatment_name(after)}", f"{after.stopped_by}, {at}"
    told = ""
    if after.given:
        at = clock_time(after.given[-1].at, course.now, course.clock)
        told = f"{at} {given_words(after.given[-1])}"
    return f"Inhaled treatment: {ordered_words(after)}", told


def _if_then(item: Difference, _course: Known) -> tuple[str, str]:
    after = _as(item.after, IfThen)
    return f"If-then line: if {if_words(after)}", f"then {after.action}"


def _if_then_gone(item: Difference, _course: Known) -> tuple[str, str]:
    return f"If-then line taken back: if {if_words(_as(item.before, IfThen))}", ""


def _words(item: Difference, _course: Known) -> tuple[str, str]:
    after = _as(item.after, HandoffNote)
    level = LEVEL_WORDS.get(after.level, "")
    return f"Words under “{after.heading.replace('_', '-')}”", ". ".join(
        filter(None, (level, after.words))
    )


def _added(item: Difference, _course: Known) -> tuple[str, str]:
    return "Added late", _as(item.after, HandoffStep).words


def _as(fact: object, kind: type[Fact]) -> Fact:
    """The fact as what it is: a difference of one sort always carries one sort of fact."""
    if not isinstance(fact, kind):
        raise TypeError(f"a {kind.__name__} is wanted")
    return fact


_TOLD: dict[What, Callable[[Difference, Known], tuple[str, str]]] = {
    What.NEW_ROW: _new_row,
    What.CORRECTED: _corrected,
    What.STRUCK: _struck,
    What.MOVED: _moved,
    What.AIRWAY: _airway,
    What.BODY: _body,
    What.IDENTITY: _identity,
    What.ORDERS: _orders,
    What.OWN_RANGE: _own_range,
    What.EVENT: _event,
    What.EVENT_CORRECTED: _event_corrected,
    What.EVENT_STRUCK: _event_struck,
    What.TASK: _task,
    What.TREATMENT: _treatment,
    What.IF_THEN: _if_then,
    What.IF_THEN_GONE: _if_then_gone,
    What.WORDS: _words,
    What.ADDED: _added,
}
