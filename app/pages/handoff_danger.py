"""The danger line: what could end badly within the hour, from what is charted; words are added by
a person. Order and entries follow the content model of the handoff; nothing here is a diagnosis.
"""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal

from app.charting.episodes import PRONE
from app.charting.fields import FIELDS
from app.charting.in_force import going_on
from app.charting.liberation import own_words
from app.charting.shown import with_unit
from app.pages.episode_words import DANGEROUS, going_lines
from app.pages.known import Known, is_fresh_now
from app.pages.times import clock_time

UNPLANNED = ("unplanned_extubation", "self_extubation", "accidental_extubation")
LOOKED_BACK = timedelta(hours=24)


def dangers(course: Known) -> Iterator[str]:
    """Each entry that applies, in a fixed order."""
    yield from _airway(course)
    yield from _position(course)
    yield from _adjuncts(course)
    yield from _events(course)


def _airway(course: Known) -> Iterator[str]:
    airway = course.facts.airways[-1] if course.facts.airways else None
    if airway is None:
        return
    if airway.difficult not in ("", "no"):
        label = FIELDS["difficult_airway"].label_of(airway.difficult)
        yield f"Difficult airway: {label.lower()}"
    if is_fresh_now(course):
        placed = [each for each in course.facts.airways if each.category == "trach"]
        at = clock_time(placed[0].observed_at, course.now, course.clock)
        yield f"Fresh tracheostomy, since {airway.stoma_on or at}"
    latest = course.facts.latest_readings()
    if "laryngectomy" in latest and latest["laryngectomy"].word == "yes":
        yield "Laryngectomy: the neck is the only airway"


def _position(course: Known) -> Iterator[str]:
    """A session with its hours; a position that was found where no session is charted."""
    facts, now, clock = course.facts, course.now, course.clock
    yield from going_lines(facts, course.policy, clock, now, DANGEROUS)
    position = facts.latest_readings().get("position")
    if position is None:
        return
    session = going_on(facts.events, PRONE, now)
    lies_prone = position.word == "prone"
    found = f"{clock_time(position.observed_at, now, clock)}"
    turned_back = any(
        event.kind == PRONE and event.ended_at and event.ended_at >= position.observed_at
        for event in facts.events
    )
    if session is None and lies_prone and not turned_back:
        yield f"Prone, charted {found}"
    if session is not None and not lies_prone and position.observed_at > session.observed_at:
        label = FIELDS["position"].label_of(position.word).lower()
        yield f"Found {label} at {found}, though no turn back is charted"


def _adjuncts(course: Known) -> Iterator[str]:
    latest = course.facts.latest_readings()
    for code in ("nitric_oxide_ppm", "ecmo_flow_lpm", "ecmo_sweep_lpm"):
        reading = latest.get(code)
        if reading is not None and reading.number and reading.number > Decimal(0):
            at = clock_time(reading.observed_at, course.now, course.clock)
            field = FIELDS[code]
            yield f"{field.label} {with_unit(field, reading.number)}, charted {at}"


def _events(course: Known) -> Iterator[str]:
    for event in course.facts.events:
        at = clock_time(event.observed_at, course.now, course.clock)
        recent = course.now - event.observed_at < LOOKED_BACK
        if event.kind in UNPLANNED and recent:
            yield ": ".join(filter(None, (f"Unplanned extubation {at}", own_words(event))))
        if event.kind == "chest_drain_leak" and event.ended_at is None:
            yield f"Leak through a chest drain, since {at}"
