"""The head of a check form: when it was seen, at whose band, and what a gas is bound to."""

from collections.abc import Iterator
from datetime import datetime

from app.charting.airways import tubes_moved
from app.charting.check import TypedCheck
from app.charting.facts import CourseFacts, Kind
from app.charting.in_force import InForce, in_force, unless_standby
from app.charting.mode_families import family_of
from app.charting.moment import FRESH_OXYGEN
from app.pages.assess_page import Bound, ObservedInput, Option
from app.pages.grid import LATE_AFTER
from app.pages.site_words import PLAIN, SiteWords
from app.pages.times import clock_time, input_time
from app.pages.values import reading_text
from app.rules.unit_clock import UnitClock

SEEN_AT, TAKEN_AT = "Observed at", "Sample taken at"
SLIP_UNITS = ("mmHg", "kPa")
SLIP_PRESSURES = ("paco2", "pao2")


def observed_input(
    label: str, at: datetime, typed: str, error: str, clock: UnitClock, now: datetime
) -> ObservedInput:
    """The time as it stands in a form, with what a reader must know of it."""
    value = typed or input_time(at, clock)
    return ObservedInput(
        label=label,
        value=value,
        zone=clock.local(at).tzname() or "",
        error=error,
        late="" if error else _late(at, now),
        choices=tuple(_choices(value, None if error else at, clock)),
    )


def _late(at: datetime, now: datetime) -> str:
    if now - at <= LATE_AFTER:
        return ""
    hours, minutes = divmod(int((now - at).total_seconds()) // 60, 60)
    return f"late entry, {f'{hours} h ' if hours else ''}{minutes} min after"


def _choices(value: str, chosen: datetime | None, clock: UnitClock) -> Iterator[Option]:
    """Both moments of a wall time that comes twice or never, each with its zone; none of a time at
    the calendar's ends."""
    try:
        wall = datetime.fromisoformat(value)
        if wall.tzinfo is not None or len(clock.moments_of(wall)) == 1:
            return
        meant = clock.may_mean(wall)
    except (ValueError, OverflowError):
        return
    for which, moment in zip(("first", "second"), meant, strict=False):
        label = f"{clock.local(moment):%H:%M} {clock.local(moment).tzname()}"
        same = chosen is not None and moment == chosen.replace(second=0, microsecond=0)
        yield Option(which, label, same)


def bound_to(
    facts: CourseFacts,
    check: TypedCheck,
    clock: UnitClock,
    now: datetime,
    words: SiteWords = PLAIN,
) -> Bound:
    """Support and oxygen in force at the sample's time, and the unit of the slip (decision 25)."""
    at = check.observed_at
    known = in_force(facts.standing, at, tubes=tubes_moved(facts.airways))
    held = unless_standby(facts.events, at, known)
    unit = check.units.get(SLIP_PRESSURES[0], SLIP_UNITS[0])
    units = tuple(Option(each, each, each == unit) for each in SLIP_UNITS)
    return Bound(tuple(_bound_words(held, at, clock, now, words)), units)


def _bound_words(
    held: InForce, at: datetime, clock: UnitClock, now: datetime, words: SiteWords
) -> Iterator[str]:
    yield family_of(held.family).label if held.family else "No mode charted in the 8 h before"
    for code in ("fio2_set", "peep_set"):
        reading = held.settings.get(code)
        if reading is not None:
            field = words.fields[code]
            seen = clock_time(reading.observed_at, now, clock)
            value = f"{reading_text(field, reading)} {field.unit}".rstrip()
            yield f"{field.name} {value}, charted {seen}"
        elif code == "fio2_set":
            yield "no FiO2 in force: type the slip's, or there is no P/F ratio"
    changed = held.oxygen_changed_at
    if changed is not None and at - changed < FRESH_OXYGEN:
        yield f"FiO2 changed only {int((at - changed).total_seconds()) // 60} min before"


def slip_unit(facts: CourseFacts, otherwise: str = SLIP_UNITS[0]) -> str:
    """The unit that the last gas was typed in; the site's where there is none."""
    gases = (row for row in reversed(facts.standing) if row.kind is Kind.GAS)
    last = next(gases, None)
    reading = last.readings.get(SLIP_PRESSURES[0]) if last is not None else None
    typed = reading.unit_typed if reading is not None else ""
    if reading is None:
        return otherwise
    return typed if typed in SLIP_UNITS else SLIP_UNITS[0]
