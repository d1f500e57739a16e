"""What is different between a course as it was known once and as it is known now.

After an offer every difference has to be seen before anybody accepts; after an acceptance, what
reaches back behind it goes to whoever accepted. Both are compared as facts, by their keys, so that
an entry written within the same second is never lost.
"""

import hashlib
from collections.abc import Iterable, Iterator
from datetime import datetime
from enum import StrEnum

from msgspec import Struct

from app.charting.facts import Assessment, CourseFacts, Reading
from app.charting.handing_over import StepKind


class What(StrEnum):
    """What sort of thing is different."""

    NEW_ROW = "new_row"
    CORRECTED = "corrected"
    STRUCK = "struck"
    MOVED = "moved"
    AIRWAY = "airway"
    BODY = "body"
    IDENTITY = "identity"
    ORDERS = "orders"
    OWN_RANGE = "own_range"
    EVENT = "event"
    EVENT_CORRECTED = "event_corrected"
    EVENT_STRUCK = "event_struck"
    TASK = "task"
    TREATMENT = "treatment"
    IF_THEN = "if_then"
    IF_THEN_GONE = "if_then_gone"
    WORDS = "words"
    ADDED = "added"


REACHES_BACK = frozenset(
    {
        What.CORRECTED,
        What.STRUCK,
        What.BODY,
        What.ADDED,
        What.IDENTITY,
        What.EVENT_CORRECTED,
        What.EVENT_STRUCK,
    }
)
"""What changes the meaning of something that somebody had accepted already."""


class Difference(Struct, frozen=True):
    """One thing that is different. `key` is the same whenever the two courses are compared.

    `before` and `after` are the facts themselves, None where there is none; `row` is the row of the
    chart that a corrected reading belongs to.
    """

    key: str
    what: What
    at: datetime | None
    author: str
    before: object | None = None
    after: object | None = None
    row: Assessment | None = None


def differences(then: CourseFacts, now: CourseFacts) -> tuple[Difference, ...]:
    """Everything that `now` says and `then` did not, in a fixed order."""
    return (
        *_moves(then, now),
        *_chart(then, now),
        *_new(What.AIRWAY, then.airways, now.airways, "observed_at"),
        *_new(What.BODY, then.body_sizes, now.body_sizes, "observed_at"),
        *_one(What.IDENTITY, then.identity, now.identity),
        *_one(What.ORDERS, then.targets, now.targets),
        *_new(What.OWN_RANGE, then.own_ranges, now.own_ranges, "from_at"),
        *_events(then, now),
        *_new(What.TASK, then.tasks, now.tasks, "changed_at"),
        *_new(What.TREATMENT, then.treatments, now.treatments, "ordered_at"),
        *_new(What.IF_THEN, then.if_thens, now.if_thens, "written_at"),
        *_gone(then, now),
        *_new(What.WORDS, then.notes, now.notes, "observed_at"),
    )


def late_items(
    then: CourseFacts, now: CourseFacts, accepted_at: datetime
) -> tuple[Difference, ...]:
    """What came after an acceptance and reaches back behind it, words that were added included."""
    found = (item for item in differences(then, now) if _reaches_back(item, accepted_at))
    known = {step.id for step in then.handoffs}
    added = (
        Difference(_key(What.ADDED, step.id), What.ADDED, step.at, step.author, after=step)
        for step in now.handoffs
        if step.kind is StepKind.ADDED and step.id not in known
    )
    return (*found, *added)


def _reaches_back(item: Difference, accepted_at: datetime) -> bool:
    if item.what is What.NEW_ROW:
        return item.at is not None and item.at < accepted_at
    return item.what in REACHES_BACK


def _chart(then: CourseFacts, now: CourseFacts) -> Iterator[Difference]:
    before = {row.id: row for row in then.standing}
    after = {row.id: row for row in now.standing}
    every = {row.id: row for row in now.assessments}
    for key, row in after.items():
        if key not in before:
            yield Difference(
                _key(What.NEW_ROW, key), What.NEW_ROW, row.observed_at, row.author, None, row
            )
        else:
            yield from _corrected(before[key], row)
    for key, row in before.items():
        if key not in after:
            struck = every.get(key, row)
            yield Difference(
                _key(What.STRUCK, key, struck.struck_at),
                What.STRUCK,
                row.observed_at,
                struck.struck_by,
                row,
                struck,
            )


def _corrected(before: Assessment, after: Assessment) -> Iterator[Difference]:
    for code, reading in after.readings.items():
        was = before.readings.get(code)
        if was is None or was.id != reading.id:
            yield _correction(was, reading, after)


def _correction(was: Reading | None, reading: Reading, row: Assessment) -> Difference:
    key = _key(What.CORRECTED, reading.id)
    return Difference(key, What.CORRECTED, reading.observed_at, reading.author, was, reading, row)


def _events(then: CourseFacts, now: CourseFacts) -> Iterator[Difference]:
    earlier = {event.id: event for event in then.events}
    for event in now.events:
        if event not in then.events:
            was = earlier.get(event.id)
            put_right = event.put_right[len(was.put_right) :] if was is not None else ()
            what = What.EVENT_CORRECTED if put_right else What.EVENT
            by = put_right[-1].by if put_right else event.author
            yield Difference(_key(what, repr(event)), what, event.observed_at, by, was, event)
    for event in now.struck_events:
        was = earlier.get(event.id)
        if was is not None:
            what = What.EVENT_STRUCK
            key = _key(what, event.id, event.struck_at)
            yield Difference(key, what, event.observed_at, event.struck_by, was, event)


def _moves(then: CourseFacts, now: CourseFacts) -> Iterator[Difference]:
    known = len(then.bed_stays)
    for place, stay in enumerate(now.bed_stays):
        if stay not in then.bed_stays or place >= known:
            was = now.bed_stays[place - 1] if place else None
            key = _key(What.MOVED, stay.from_at, stay.bed)
            yield Difference(key, What.MOVED, stay.from_at, stay.author, was, stay)


def _gone(then: CourseFacts, now: CourseFacts) -> Iterator[Difference]:
    standing = {line.id for line in now.if_thens}
    for line in then.if_thens:
        if line.id not in standing:
            key = _key(What.IF_THEN_GONE, line.id)
            yield Difference(key, What.IF_THEN_GONE, None, "", line)


def _new(
    what: What, then: Iterable[object], now: Iterable[object], at: str
) -> Iterator[Difference]:
    known = list(then)
    earlier = {getattr(fact, "id", None): fact for fact in known}
    for fact in now:
        if fact not in known:
            was = earlier.get(getattr(fact, "id", None)) if hasattr(fact, "id") else None
            by = getattr(fact, "changed_by", "") or getattr(fact, "author", "")
            yield Difference(_key(what, repr(fact)), what, getattr(fact, at), by, was, fact)


def _one(what: What, then: object, now: object) -> Iterator[Difference]:
    if then != now:
        yield Difference(_key(what, repr(now)), what, None, "", then, now)


def _key(what: What, *parts: object) -> str:
    """Short, and the same for the same fact; it stands in a form."""
    text = "\n".join(str(part) for part in parts)
    return f"{what.value}-{hashlib.sha256(text.encode()).hexdigest()[:16]}"
