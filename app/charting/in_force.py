"""What is in force at a moment: the mode family, the settings, the airway, the oxygen for a gas.

A setting holds from the row that charted it until another row charts it anew, until a mode family
that does not know it begins, or until it is 8 h old (the open CLIF data's own span for a blank
mode; engineering judgement for the rest). Measured values are never carried like this.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from itertools import groupby

from msgspec import Struct, field

from app.charting.airways import TubeMoved
from app.charting.event_facts import Event
from app.charting.facts import Airway, Assessment, Reading
from app.charting.field import Manner, Use
from app.charting.fields import FIELDS
from app.charting.mode_families import family_of
from app.charting.uses import use_of
from app.charting.uses_by_family import SETTINGS as BY_FAMILY

MAX_AGE = timedelta(hours=8)
"""How long a setting or a mode is taken to hold without being looked at again."""

SETTINGS = frozenset(code for code, known in FIELDS.items() if known.manner is Manner.SETTING)


_OF_A_MODE = frozenset(code for known in BY_FAMILY.values() for code in known)
"""Settings that belong to a mode; alarm limits, the sedation target and added gases stay."""


class InForce(Struct, frozen=True):
    """What holds at one moment. `family` is empty where no mode was charted in the last 8 h."""

    family: str = ""
    settings: Mapping[str, Reading] = field(default_factory=dict)
    oxygen_changed_at: datetime | None = None
    """When the FiO2 in force was last set to another value than before; None if never seen."""


class Course:
    """Walks the rows of a course in time and remembers what they put in force.

    `tubes` are the moments at which a tube came out or went in, oldest first: support that cannot
    go on without it, or beside it, has ended then, whether or not anybody has charted another.
    """

    def __init__(self, max_age: timedelta = MAX_AGE, tubes: Sequence[TubeMoved] = ()) -> None:
        self._max_age = max_age
        self._tubes = list(tubes)
        self._family = ""
        self._family_at: datetime | None = None
        self._settings: dict[str, Reading] = {}
        self._oxygen_changed_at: datetime | None = None

    def absorb(self, row: Assessment) -> None:
        """Take over what a row says of mode and settings; rows must come oldest first."""
        self._tubes_moved(before=row.observed_at)
        if row.mode_family:
            if row.mode_family != self._family:
                self._close_what_ends_with(row.mode_family)
            self._family, self._family_at = row.mode_family, row.observed_at
        for code, reading in row.values.items():
            if code in SETTINGS:
                self._notice_oxygen(code, reading)
                self._settings[code] = reading

    def _close_what_ends_with(self, family: str) -> None:
        """A setting that the new family does not know has ended; in standby or with none, all have.

        The machine's FiO2 ends too when a patient goes on or off the machine: what a mask gives is
        never guessed from it.
        """
        other_source = family_of(family).ventilates != family_of(self._family).ventilates
        for code in [code for code in self._settings if code in _OF_A_MODE]:
            unknown = family in ("", "standby") or use_of(family, code) is Use.HIDDEN
            if unknown or (other_source and code == "fio2_set"):
                del self._settings[code]

    def _tubes_moved(
        self, *, before: datetime | None = None, until: datetime | None = None
    ) -> None:
        """End the support that a tube which moved since it was charted has ended."""
        while self._tubes and _is_past(self._tubes[0].at, before, until):
            moved = self._tubes.pop(0)
            charted = self._family_at is not None and self._family_at <= moved.at
            if charted and moved.ends(self._family):
                self._close_what_ends_with("")
                self._family, self._family_at = "", None
            elif self._family_at is None and not moved.went_in:
                self._close_what_was_given_before(moved.at)

    def _close_what_was_given_before(self, at: datetime) -> None:
        """Without a mode nobody knows by what it was given; it was given through the tube."""
        for code in [code for code in self._settings if code in _OF_A_MODE]:
            if self._settings[code].observed_at < at:
                del self._settings[code]

    def _notice_oxygen(self, code: str, reading: Reading) -> None:
        before = self._settings.get(code)
        if code == "fio2_set" and before is not None and before.number != reading.number:
            self._oxygen_changed_at = reading.observed_at

    def at(self, moment: datetime) -> InForce:
        """What is in force at this moment, which must not lie before the newest row taken over."""
        self._tubes_moved(until=moment)
        known = self._family_at is not None and self._holds(self._family_at, moment)
        settings = {
            code: reading
            for code, reading in self._settings.items()
            if self._holds(reading.observed_at, moment)
        }
        return InForce(self._family if known else "", settings, self._oxygen_changed_at)

    def _holds(self, since: datetime, moment: datetime) -> bool:
        return moment - since <= self._max_age


def _is_past(at: datetime, before: datetime | None, until: datetime | None) -> bool:
    return (before is not None and at < before) or (until is not None and at <= until)


def in_force(
    rows: Iterable[Assessment],
    at: datetime,
    max_age: timedelta = MAX_AGE,
    *,
    tubes: Sequence[TubeMoved] = (),
) -> InForce:
    """Mode family and settings in force at a moment, from the rows that count, oldest first.

    Rows after the moment are not looked at; a row of that very moment is. `tubes`: see Course.
    """
    course = Course(max_age, tubes)
    for row in rows:
        if row.counts and row.observed_at <= at:
            course.absorb(row)
    return course.at(at)


def each_in_force(
    rows: Sequence[Assessment], course: Course | None = None
) -> Iterator[tuple[Assessment, InForce]]:
    """Each row with what is in force at its time, in one pass; rows of a moment know each other.

    `course` has walked the rows before these, all of them earlier.
    """
    course = course or Course()
    for moment, together in groupby(rows, key=lambda row: row.observed_at):
        same_time = tuple(together)
        for row in same_time:
            course.absorb(row)
        holds = course.at(moment)
        for row in same_time:
            yield row, holds


def airway_at(airways: Sequence[Airway], at: datetime) -> Airway | None:
    """The airway in place at a moment; None before the first one."""
    return next((airway for airway in reversed(airways) if airway.observed_at <= at), None)


def going_on(events: Iterable[Event], kind: str, at: datetime) -> Event | None:
    """The event of this kind that has begun and not ended at a moment; None where there is none."""
    for event in events:
        begun = event.kind == kind and event.observed_at <= at
        if begun and (event.ended_at is None or event.ended_at > at):
            return event
    return None


def unless_standby(events: Iterable[Event], at: datetime, holds: InForce) -> InForce:
    """What is in force at a moment: on standby nothing that was set before it (decision 31)."""
    standby = going_on(events, "standby", at)
    if standby is None:
        return holds
    since = standby.observed_at
    settings = {c: each for c, each in holds.settings.items() if each.observed_at >= since}
    return InForce("standby", settings, holds.oxygen_changed_at)
