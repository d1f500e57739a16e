"""What changed since a moment: every step with its time and author, noise left out.

Settings step; the mode family, the airway, the position and the height are always listed. A field
that had no value before the moment is "first seen", never "0 to x". A corrected value says so.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from app.charting.airways import REPOSITIONED, RESECURED
from app.charting.facts import CourseFacts, Reading, State
from app.charting.field import Field, Group, Manner
from app.charting.fields import FIELDS
from app.rules.policy import Policy

ALWAYS_LISTED = ("position",)
MODE_FAMILY = "mode_family"
AIRWAY = "airway"
DEPTH = "airway_depth_cm"
HEIGHT = "height_cm"


@dataclass(frozen=True, slots=True)
class Step:
    """One change of one thing; `before` is None where nothing was known before."""

    key: str
    before: Decimal | str | None
    after: Decimal | str
    at: datetime
    author: str
    corrected: bool = False
    why: str = ""
    """Why it was corrected or changed, in the words of whoever did it."""


def changes_since(facts: CourseFacts, since: datetime, policy: Policy) -> tuple[Step, ...]:
    """Every step after `since`, oldest first; steps at or under the policy's noise are left out."""
    steps = [*_field_steps(facts, policy), *_family_steps(facts), *_course_steps(facts)]
    return tuple(sorted((step for step in steps if step.at > since), key=lambda step: step.at))


def _field_steps(facts: CourseFacts, policy: Policy) -> Iterator[Step]:
    for code, readings in _by_field(facts).items():
        yield from _steps_of(code, readings, policy.noise.get(code, Decimal(0)))


def _by_field(facts: CourseFacts) -> dict[str, list[Reading]]:
    listed = {code for code, field in FIELDS.items() if _is_listed(field)}
    listed = (listed | set(ALWAYS_LISTED)) - {MODE_FAMILY}
    found: dict[str, list[Reading]] = {}
    for row in facts.standing:
        for code, reading in row.readings.items():
            if code in listed and reading.has_value and reading.state is not State.NOT_MEASURED:
                found.setdefault(code, []).append(reading)
    return found


def _is_listed(field: Field) -> bool:
    """Settings of the breath and the gas; alarm limits follow the patient and are looked up."""
    return field.manner is Manner.SETTING and field.group is not Group.ALARMS


def _steps_of(code: str, readings: Iterable[Reading], noise: Decimal) -> Iterator[Step]:
    held: Decimal | str | None = None
    for reading in readings:
        value = reading.number if reading.number is not None else reading.word
        if not _is_a_step(held, value, noise):
            continue
        corrected = reading.corrected_from is not None
        yield Step(code, held, value, reading.observed_at, reading.author, corrected, reading.why)
        held = value


def _is_a_step(before: Decimal | str | None, after: Decimal | str, noise: Decimal) -> bool:
    """Compared with the value last listed, so that a slow creep adds up to a step."""
    if isinstance(before, Decimal) and isinstance(after, Decimal):
        return abs(after - before) > noise
    return before != after


def _family_steps(facts: CourseFacts) -> Iterator[Step]:
    held: str | None = None
    for row in facts.standing:
        if row.mode_family and row.mode_family != held:
            yield Step(MODE_FAMILY, held, row.mode_family, row.observed_at, row.author)
            held = row.mode_family


def _course_steps(facts: CourseFacts) -> Iterator[Step]:
    held: str | None = None
    depth: Decimal | None = None
    for airway in facts.airways:
        now = f"{airway.category} {airway.size_mm or ''}".strip()
        at, by, why = airway.observed_at, airway.author, airway.why or airway.words
        if airway.act == REPOSITIONED and airway.depth_cm is not None:
            yield Step(DEPTH, depth, airway.depth_cm, at, by, why=why)
        elif airway.act != RESECURED:
            yield Step(AIRWAY, held, now, at, by, why=why)
        held, depth = now, airway.depth_cm
    yield from _height_steps(facts)


def _height_steps(facts: CourseFacts) -> Iterator[Step]:
    height: Decimal | None = None
    for size in (version for newest in facts.body_sizes for version in newest.versions):
        if size.height_cm is not None and size.height_cm != height:
            corrected = height is not None and size.corrected_from is not None
            yield Step(
                HEIGHT, height, size.height_cm, size.observed_at, size.author, corrected, size.why
            )
            height = size.height_cm
