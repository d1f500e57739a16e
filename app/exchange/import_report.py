"""What an import did with each row and each value, for a reader and as a CSV file."""

import csv
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path
from typing import Final

from msgspec import Struct, field

COLUMNS: Final = ("what", "count", "course", "observed_at", "field", "typed", "reason")


class Line(Struct, frozen=True):
    """One value that did not go in as it stood: where, when, what, and why."""

    course: str
    observed_at: datetime
    field: str
    typed: str
    reason: str


class ImportReport(Struct):
    """Counts, and the values that were refused, left or taken with a question.

    `rows_read` is by table. `rows` counts the rows of respiratory support by what they were,
    `began` the courses in the tables by where they began.
    """

    rows_read: Mapping[str, int] = field(default_factory=dict)
    tables_absent: tuple[str, ...] = ()
    rows: Counter[str] = field(default_factory=Counter)
    began: Counter[str] = field(default_factory=Counter)
    courses_made: int = 0
    courses_before: int = 0
    courses_left_out: int = 0
    checks: int = 0
    gases: int = 0
    values_taken: int = 0
    values_inferred: int = 0
    zeros: int = 0
    refused: list[Line] = field(default_factory=list)
    unconfirmed: list[Line] = field(default_factory=list)
    conflicts: list[Line] = field(default_factory=list)

    @property
    def assessments(self) -> int:
        """Checks and blood gases together."""
        return self.checks + self.gases


def counts(report: ImportReport) -> Iterator[tuple[str, int]]:
    """What was counted, each with its words, in the order of the work."""
    for table, rows in report.rows_read.items():
        yield f"rows read, {table}", rows
    for what, rows in sorted(report.rows.items()):
        yield f"rows of support, {what}", rows
    for where, courses in sorted(report.began.items()):
        yield f"courses in the tables, begun in {where}", courses
    yield "courses made", report.courses_made
    yield "courses left alone, imported before", report.courses_before
    yield "courses left out, stay not in the hospitalization table", report.courses_left_out
    yield "checks made", report.checks
    yield "blood gases made", report.gases
    yield "values taken", report.values_taken
    yield "values taken, unconfirmed", len(report.unconfirmed)
    yield "values taken, inferred", report.values_inferred
    yield "zeros read as missing", report.zeros
    yield "values left, another came first in the same round", len(report.conflicts)
    yield "values refused", len(report.refused)


def in_words(report: ImportReport) -> Iterator[str]:
    """Lines for a terminal. They name no stay and no patient: a terminal is often logged."""
    for table in report.tables_absent:
        yield f"No table {table}."
    for what, count in counts(report):
        yield f"{count:>7}  {what}"
    for line in report.refused:
        yield f"         refused: {line.field} “{line.typed}”: {line.reason}"


def write_csv(report: ImportReport, file: Path) -> None:
    """The counts, then every value that was refused, left, or taken unconfirmed, a line each."""
    with file.open("w", encoding="utf-8", newline="") as out:
        writer = csv.writer(out)
        writer.writerow(COLUMNS)
        writer.writerows((what, count, "", "", "", "", "") for what, count in counts(report))
        for what, lines in (
            ("refused", report.refused),
            ("left in conflict", report.conflicts),
            ("unconfirmed", report.unconfirmed),
        ):
            writer.writerows(_cells(what, line) for line in lines)


def _cells(what: str, line: Line) -> tuple[str, ...]:
    moment = line.observed_at.isoformat()
    return (what, "1", line.course, moment, line.field, line.typed, line.reason)
