"""What an import will write, worked out from the tables before anything is written."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from msgspec import Struct
from msgspec.structs import replace

from app.exchange.clif_beside import NOTHING, Beside, by_stay
from app.exchange.clif_checks import ClifCheck, check_of, gas_of
from app.exchange.clif_courses import Course, courses_of
from app.exchange.clif_devices import (
    HOLDS,
    OTHER_MODE,
    Device,
    DeviceRow,
    DeviceSource,
    has_ventilator_value,
    with_devices,
)
from app.exchange.clif_gases import Sample, samples_of
from app.exchange.clif_rounds import Round, rounds_of
from app.exchange.clif_rows import Finding, Place
from app.exchange.clif_tables import ClifTables
from app.rules.unit_clock import UnitClock


class PlannedCourse(Struct, frozen=True):
    """One course with its checks and gases, oldest first; a check stands before a gas of its time.

    `zeros` is how many zeros were read as missing.
    """

    course: Course
    checks: tuple[ClifCheck, ...]
    zeros: int = 0


class Plan(Struct, frozen=True):
    """Every course, what the rows of respiratory support were, and where courses began ("icu")."""

    courses: tuple[PlannedCourse, ...]
    rows: Counter[str]
    began: Counter[str]


def plan_of(tables: ClifTables, clock: UnitClock) -> Plan:
    """Work out every stay; `clock` is the unit's, whose days decide where a course ends."""
    beside = by_stay(tables.vitals, tables.positions)
    labs = _by_stay(tables.labs)
    courses: list[PlannedCourse] = []
    counted: Counter[str] = Counter()
    for stay, rows in groupby(tables.support, key=lambda row: row.stay):
        known = with_devices(tuple(rows))
        counted.update(word for row in known for word in _words_for(row))
        found = courses_of(stay, known, clock)
        samples = samples_of(labs.get(stay, ())) if found else ()
        near = beside.get(stay, NOTHING)
        courses.extend(_planned(course, near, samples) for course in found)
    began = Counter(_place_at(tables.places, planned.course) for planned in courses)
    return Plan(tuple(courses), counted, began)


def _place_at(places: Iterable[Place], course: Course) -> str:
    """Where the stay was when the course began, in the tables' own category."""
    before = [p for p in places if p.stay == course.stay and p.at <= course.started_at]
    return max(before, key=lambda place: place.at).category if before else "a place not known"


def _by_stay(findings: Iterable[Finding]) -> Mapping[str, list[Finding]]:
    found: dict[str, list[Finding]] = defaultdict(list)
    for finding in findings:
        found[finding.stay].append(finding)
    return found


_SOURCES = {
    DeviceSource.NAMED: "device named",
    DeviceSource.BEFORE: "device from a row before",
    DeviceSource.AFTER: "device from a row after",
    DeviceSource.UNKNOWN: "no device anywhere",
}


def _words_for(row: DeviceRow) -> Iterator[str]:
    """Under which words a row is counted: its kind of support, and how its device is known."""
    kind = row.device.value.replace("_", " ")
    yield f"{kind}, {_SOURCES[row.device_source]}"
    named = row.device_source is DeviceSource.NAMED
    if row.device is Device.INVASIVE and (named or has_ventilator_value(row.row)):
        yield "invasive, with a named device or a ventilator's value"


def _planned(course: Course, beside: Beside, samples: Iterable[Sample]) -> PlannedCourse:
    rounds = rounds_of(course.rows)
    checks = [check for found in rounds if (check := check_of(found, beside)) is not None]
    gases = [gas_of(sample) for sample in samples if _drawn_during(course, sample)]
    in_order = sorted([*_ended(checks), *gases], key=lambda check: check.at)
    return PlannedCourse(course, tuple(in_order), _zeros(rounds))


def _drawn_during(course: Course, sample: Sample) -> bool:
    """Whether a sample belongs to a course: from its start until something else was charted, and no
    later than what its last row says can be in force."""
    last = min(course.ended_at, course.rows[-1].at + HOLDS)
    return course.started_at <= sample.at <= last


def _ended(checks: Iterable[ClifCheck]) -> Iterator[ClifCheck]:
    """A mode that is too old to be in force is charted as "other" once one was charted before.

    Left blank, the chart would take the mode of the check before as still in force, although that
    one did not name it either.
    """
    charted = False
    for check in checks:
        ended = charted and not check.family
        charted = charted or bool(check.family)
        yield replace(check, family=OTHER_MODE) if ended else check


def _zeros(rounds: Iterable[Round]) -> int:
    return sum(found.zeros for found in rounds)
