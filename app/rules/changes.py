"""What changed since a moment: every step with its time, author and reason, noise left out.

Settings step, and so does whatever the policy has a noise band for. The mode family, the airway,
the ventilator, the humidifier, the position, the height and the limits of care are always listed.
Each is compared with the value in force at that moment; one that had none is "first seen", never
"0 to x". A corrected value says from what and when. The rules are engineering judgement.
"""

from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, datetime
from decimal import Decimal

from msgspec import Struct
from msgspec.structs import replace

from app.charting.airways import REMOVED
from app.charting.episodes import outcome_words
from app.charting.events import EVENT_KINDS
from app.charting.facts import Airway, Assessment, BodySize, CourseFacts, OwnRange, Reading, State
from app.charting.field import Field, Group, Manner
from app.charting.fields import FIELDS
from app.rules.policy import Policy

ALWAYS_LISTED = ("device_id", "position", "humidifier")
ROUTINE = frozenset({"suction", "position_change"})
MODE_FAMILY = "mode_family"
AIRWAY = "airway"
HEIGHT = "height_cm"
LIMITS = "limits_of_care"
OWN_RANGE = "own_range "
"""Before the key of a limit: the range of the patient's own in its place."""
OF_THE_UNIT = "the unit's"
WHY = "change_reason"
"""The field in which a check says why settings were changed."""

Worth = Decimal | str


class Step(Struct, frozen=True):
    """One change of one thing; `before` is None where nothing was known at the moment compared."""

    key: str
    before: Worth | None
    after: Worth
    at: datetime
    author: str
    corrected: bool = False
    why: str = ""
    """Why it was changed or corrected, in the words of whoever did it."""
    corrected_from: Worth | None = None
    """What stood there before it was corrected; None where that was no value."""
    corrected_at: datetime | None = None


class Happened(Struct, frozen=True):
    """An event, its begin or its end, in the words of the record; an end is by nobody's name."""

    words: str
    at: datetime
    author: str


class _Told(Struct, frozen=True):
    """One thing as it was said once: at which time it held, and when that was written."""

    value: Worth
    at: datetime
    author: str
    first_written: datetime
    why: str = ""
    corrected: bool = False
    corrected_from: Worth | None = None
    corrected_at: datetime | None = None


def changes_since(
    facts: CourseFacts, since: datetime, policy: Policy, *, written_too: bool = False
) -> tuple[Step, ...]:
    """Every step after `since`, oldest first; steps at or under the policy's noise are left out.

    A correction that was written after `since` is listed however old the value is. With
    `written_too`, so is whatever was written after `since` about a time before it: for somebody who
    looked then, it is news.
    """
    steps = (
        step
        for key, told in _told(facts, policy).items()
        for step in _steps(key, told, since, policy, written_too=written_too)
    )
    return tuple(sorted(steps, key=lambda step: step.at))


def events_since(facts: CourseFacts, since: datetime) -> tuple[Happened, ...]:
    """Every event that came about, began or ended after `since`, oldest first.

    Suction is left out: it is part of every round (common practice). A turn is listed as a step of
    the position. A correction or a strike is told at the time at which it was written.
    """
    listed = [event for event in facts.events if event.kind not in ROUTINE]
    began = [Happened(each.words, each.observed_at, each.author) for each in listed]
    ended = [
        Happened(
            ": ".join(filter(None, (EVENT_KINDS[each.kind].ends, outcome_words(each)))),
            each.ended_at,
            "",
        )
        for each in listed
        if each.ended_at is not None and EVENT_KINDS[each.kind].lasts
    ]
    every = (*began, *ended, *_put_right(facts))
    return tuple(sorted((each for each in every if each.at > since), key=lambda each: each.at))


def _put_right(facts: CourseFacts) -> Iterator[Happened]:
    for event in facts.struck_events:
        if event.struck_at is not None:
            words = f"Struck: {event.words} ({event.struck})"
            yield Happened(words, event.struck_at, event.struck_by)
    for event in facts.events:
        for put in event.put_right:
            end = "the end of " if put.of_end else ""
            words = f"{'Struck' if put.struck else 'Corrected'}: {end}{event.words} ({put.why})"
            yield Happened(words, put.written_at, put.by)


def _told(facts: CourseFacts, policy: Policy) -> Mapping[str, list[_Told]]:
    found: dict[str, list[_Told]] = {code: [] for code in _listed(policy)}
    found |= {MODE_FAMILY: [], AIRWAY: [], HEIGHT: [], LIMITS: []}
    for row in facts.standing:
        _add_row(found, row)
    found[AIRWAY] += [
        _Told(_tube(tube), tube.observed_at, tube.author, tube.observed_at, tube.why)
        for tube in facts.airways
    ]
    found[HEIGHT] += [told for size in facts.body_sizes for told in _heights(size)]
    found[LIMITS] += [
        _Told(said.words, said.at, said.author, said.at) for said in facts.care_limits
    ]
    for own in facts.own_ranges:
        first = [_Told(OF_THE_UNIT, _EVER, "", _EVER)]
        found.setdefault(f"{OWN_RANGE}{own.limit}", first).append(
            _Told(_ends(own), own.from_at, own.author, own.from_at, own.why)
        )
    return found


_EVER = datetime.min.replace(tzinfo=UTC)


def _ends(own: OwnRange) -> str:
    """ "under 7.2 or over 7.6"; the unit's where it says that none is the patient's own."""
    ends = {"under": own.under, "over": own.over}
    told = [f"{side} {end:f}" for side, end in ends.items() if end is not None]
    return " or ".join(told) or OF_THE_UNIT


def _tube(tube: Airway) -> str:
    if tube.act == REMOVED:
        return REMOVED
    return f"{tube.category} {tube.size_mm or ''}".strip()


def _listed(policy: Policy) -> list[str]:
    settings = [code for code, field in FIELDS.items() if _is_listed(field)]
    banded = [code for code in policy.noise if code in FIELDS]
    return list(dict.fromkeys((*settings, *ALWAYS_LISTED, *banded)))


def _is_listed(field: Field) -> bool:
    """Settings of the breath and the gas; alarm limits follow the patient and are looked up."""
    setting = field.manner is Manner.SETTING and field.group is not Group.ALARMS
    return setting and field.code != MODE_FAMILY


def _add_row(found: dict[str, list[_Told]], row: Assessment) -> None:
    reason = row.readings.get(WHY)
    why = reason.word if reason is not None else ""
    if row.mode_family:
        found[MODE_FAMILY].append(
            _Told(row.mode_family, row.observed_at, row.author, row.recorded_at, why)
        )
    for code, reading in row.readings.items():
        if code in found and (value := _worth(reading)) is not None:
            found[code].append(_of_reading(reading, value, why))


def _worth(reading: Reading | None) -> Worth | None:
    if reading is None or not reading.has_value or reading.state is State.NOT_MEASURED:
        return None
    return reading.number if reading.number is not None else reading.word


def _of_reading(reading: Reading, value: Worth, why: str) -> _Told:
    first = reading
    while first.corrected_from is not None:
        first = first.corrected_from
    told = _Told(value, reading.observed_at, reading.author, first.recorded_at, why)
    if reading.corrected_from is None:
        return told
    return replace(
        told,
        why=reading.why or why,
        corrected=True,
        corrected_from=_worth(reading.corrected_from),
        corrected_at=reading.recorded_at,
    )


def _heights(newest: BodySize) -> Iterator[_Told]:
    """Every version: what was held to be true for a time counts as a step of its own."""
    for size in newest.versions:
        if size.height_cm is None:
            continue
        before = size.corrected_from
        yield _Told(
            size.height_cm,
            size.observed_at,
            size.author,
            size.recorded_at or size.observed_at,
            size.why,
            corrected=before is not None and before.height_cm is not None,
            corrected_from=before.height_cm if before is not None else None,
            corrected_at=size.recorded_at if before is not None else None,
        )


def _steps(
    key: str, said: Iterable[_Told], since: datetime, policy: Policy, *, written_too: bool
) -> Iterator[Step]:
    held: Worth | None = None
    noise = policy.noise.get(key, Decimal(0))
    for told in said:
        news = told.at > since or (written_too and told.first_written > since)
        corrected = told.corrected_at is not None and told.corrected_at > since
        if news and _is_a_step(held, told.value, noise):
            yield _step(key, held, told)
            held = told.value
        elif corrected and told.corrected_from != told.value:
            yield _step(key, told.corrected_from, told)
            held = told.value
        elif not news:
            held = told.value


def _step(key: str, before: Worth | None, told: _Told) -> Step:
    return Step(
        key,
        before,
        told.value,
        told.at,
        told.author,
        told.corrected,
        told.why,
        told.corrected_from,
        told.corrected_at,
    )


def _is_a_step(before: Worth | None, after: Worth, noise: Decimal) -> bool:
    """Compared with the value last listed, so that a slow creep adds up to a step."""
    if isinstance(before, Decimal) and isinstance(after, Decimal):
        return abs(after - before) > noise
    return before != after
