"""A record with years in it: the courses of a charted unit, copied by the database itself.

The copies are courses that ended long ago: they stand in no bed, and their keys sort before all
others. No audit line names them, so such a record is for measuring and never whole.
"""

import sqlite3

from app.record.tables import (
    AirwayRow,
    AssessmentRow,
    BodySizeRow,
    CourseRow,
    PatientDetailsRow,
    PatientRow,
    ReadingRow,
    TargetRow,
    table_of,
)
from tests.bench.timing import Progress

COPIED = (
    PatientRow,
    PatientDetailsRow,
    CourseRow,
    BodySizeRow,
    AirwayRow,
    TargetRow,
    AssessmentRow,
    ReadingRow,
)
OF_THE_COPY = ("id", "patient_id", "course_id", "assessment_id")
"""Columns whose keys begin with the number of the copy, in place of their first eight digits."""

BEHIND_COPIES = "00001"
"""Keys of copies come before it: there are fewer than 16 to the fourth power of them."""

AT_ONCE = 20


def fill(path: str, readings: int) -> int:
    """Copy everything until there are that many readings; returns how many there are."""
    connection = sqlite3.connect(path, isolation_level=None)
    for setting in ("synchronous = OFF", "foreign_keys = OFF", "cache_size = -200000"):
        connection.execute(f"PRAGMA {setting}")
    held = _count(connection)
    copies = readings // held - 1
    progress = Progress(f"{readings:.0e} readings", copies // AT_ONCE + 1)
    for first in range(1, copies + 1, AT_ONCE):
        connection.execute("BEGIN IMMEDIATE")
        for copy in range(first, min(first + AT_ONCE, copies + 1)):
            _copy(connection, copy)
        connection.execute("COMMIT")
        progress.step()
    counted = _count(connection)
    connection.close()
    return counted


def _count(connection: sqlite3.Connection) -> int:
    return int(connection.execute("SELECT count(*) FROM reading").fetchone()[0])


def _copy(connection: sqlite3.Connection, copy: int) -> None:
    for kind in COPIED:
        table = table_of(kind)
        names = [column.name for column in table.columns]
        taken = [f"'{copy:08x}' || substr({n}, 9)" if n in OF_THE_COPY else n for n in names]
        connection.execute(
            f"INSERT INTO {table.name} ({', '.join(names)}) SELECT {', '.join(taken)}"  # noqa: S608
            f" FROM {table.name} WHERE id >= '{BEHIND_COPIES}' ORDER BY id"
        )
