"""`replay`: a wide CSV of charted rows in, one row for each flag out. It needs no database.

Columns: `course`, `observed_at` (ISO 8601 with offset), field codes in their own units, optional
`height_cm`, `pbw_sex`, `age_y` (an adult where absent), `spo2_target_low`, `spo2_target_high`. Gas
columns belong to their row's time. Rows may stand in any order. A cell that cannot be a value of
its field counts as not measured, so that a limit which needs it is not evaluable, never within.
"""

import csv
import gc
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from typing import Final, TextIO

from msgspec import Struct

from app.charting.facts import CourseFacts
from app.exchange.replay_rows import Columns, facts_of
from app.rules.policy import Policy
from app.rules.watch import Flag, Policies, flags_of

HEADER: Final = ("course", "group", "rule", "raised_at", "cleared_at", "values")
NEEDED: Final = ("course", "observed_at")


class ReplayError(ValueError):
    """A file that cannot be replayed; `line` is where, 0 for the file as a whole."""

    def __init__(self, line: int, what: str) -> None:
        super().__init__(f"line {line}: {what}" if line else what)
        self.line = line


class Replayed(Struct, frozen=True):
    """What a replay went through: courses, rows and the flags it wrote."""

    courses: int
    rows: int
    flags: int


def replay(chart: TextIO, policy: Policy, out: TextIO) -> Replayed:
    """Read a chart, write its flags, oldest first within each course; raises ReplayError.

    Each course is looked at from the time of its last row. *Outside once* is not written.
    """
    rows = csv.reader(chart)
    columns = _columns(next(rows, []))
    courses = _by_course(rows, columns)
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(HEADER)
    flags, policies = 0, Policies(policy)
    with _no_collector():
        for course, lines in courses.items():
            for flag in _flags(facts_of(course, lines, columns), policies):
                writer.writerow(_row(course, flag))
                flags += 1
    return Replayed(len(courses), sum(map(len, courses.values())), flags)


class _no_collector:  # noqa: N801  (reads as a word of the with statement)
    """Rows hold no cycles: looking for some among a unit's year costs a third of the time."""

    def __enter__(self) -> None:
        gc.disable()

    def __exit__(self, *_: object) -> None:
        gc.enable()


def _columns(header: list[str]) -> Columns:
    names = [name.strip().removeprefix("\ufeff") for name in header]
    missing = [name for name in NEEDED if name not in names]
    if missing:
        raise ReplayError(1, f"needs the columns {' and '.join(missing)}")
    doubled = {name for name in names if name and names.count(name) > 1}
    if doubled:
        raise ReplayError(1, f"these columns stand twice: {', '.join(sorted(doubled))}")
    return Columns({name: place for place, name in enumerate(names)})


Line = tuple[datetime, list[str]]


def _by_course(rows: Iterable[list[str]], columns: Columns) -> dict[str, list[Line]]:
    """Lines by course, oldest first, in the order in which courses first appear."""
    found: dict[str, list[Line]] = {}
    course, moment = columns.place["course"], columns.place["observed_at"]
    width = len(columns.place)
    for number, row in enumerate(rows, start=2):
        if not row:
            continue
        if len(row) != width:
            raise ReplayError(number, f"has {len(row)} cells, the header {width}")
        found.setdefault(row[course].strip(), []).append((_moment(row[moment], number), row))
    for lines in found.values():
        lines.sort(key=lambda line: line[0])
    return found


def _moment(text: str, line: int) -> datetime:
    try:
        moment = datetime.fromisoformat(text.strip())
    except ValueError:
        raise ReplayError(line, f"{text!r} is not a time in ISO 8601") from None
    if moment.tzinfo is None:
        raise ReplayError(line, f"{text!r} has no offset: write it as 2026-03-09T11:30:00+00:00")
    return moment.astimezone(UTC)


def _flags(facts: CourseFacts, policies: Policies) -> tuple[Flag, ...]:
    return flags_of(facts, policies, facts.assessments[-1].observed_at) if facts.assessments else ()


def _row(course: str, flag: Flag) -> Iterator[str]:
    yield from (course, flag.group, flag.rule, flag.raised_at.isoformat())
    yield flag.cleared_at.isoformat() if flag.cleared_at is not None else ""
    yield _values(flag)


def _values(flag: Flag) -> str:
    seen = "; ".join(f"{value.shown} at {value.at.isoformat()}" for value in flag.values)
    held_against = "level before" if flag.drift else "limit"
    told = f"{flag.series} {seen}" if seen else flag.series
    return f"{told} ({held_against} {flag.against})"
