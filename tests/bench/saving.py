"""Saving one assessment: what is written, and the whole action, against one-row durable commits."""

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import cycle
from pathlib import Path

import psycopg

from app.actions.chart_assessment import write_check
from app.charting.check import read_check
from app.record.courses import course_facts
from app.record.database import Database
from app.record.summaries import find_summary, store_summary
from tests.bench.figures import Figure
from tests.bench.timing import in_turns, say
from tests.bench.unit import EVERY, Unit, full_check, open_unit

BEDS, CHECKS = 12, 18
"""Three days of full checks stand in each course before anything is measured."""

ROUNDS, EACH = 7, 15
TEXT = "x" * 200
PERSISTENCE = {"sqlite": 0.20, "postgresql": 0.15}
WHOLE_ACTION = 0.08


def saving_figures(database: Database) -> Iterator[Figure]:
    """Both on the database's engine."""
    engine = database.dialect
    say(f"saving one assessment, {engine}")
    unit = open_unit(database, beds=BEDS, checks=CHECKS)
    with one_row_commits(database) as commit:
        floor, written = in_turns(commit, persistence(unit), rounds=ROUNDS, each=EACH)
        yield Figure(
            f"persistence of one assessment, {engine}",
            floor,
            written,
            at_least=PERSISTENCE[engine],
        )
        floor, saved = in_turns(commit, whole_action(unit), rounds=ROUNDS, each=EACH)
        yield Figure(
            f"the whole action of saving it, {engine}", floor, saved, at_least=WHOLE_ACTION
        )


def persistence(unit: Unit) -> Callable[[], None]:
    """Assessment, readings, hashes, audit line and summary row of a check that was read before."""
    course_id = unit.courses[0]
    check = full_check(unit.clock.now)
    with unit.database.reading() as session:
        facts = course_facts(session, course_id)
        cells = find_summary(session, course_id) or ""
    readings = read_check(check, facts, now=unit.clock.now).readings

    def write() -> None:
        with unit.write() as writing:
            write_check(writing, course_id, check, readings)
            store_summary(writing, course_id, unit.unit_id, cells, None)

    return write


def whole_action(unit: Unit) -> Callable[[], None]:
    """What the button does, in one bed after the other: a round every four hours."""
    in_turn = cycle(unit.courses)

    def save() -> None:
        unit.clock.now += EVERY / len(unit.courses)
        unit.chart(next(in_turn), unit.clock.now)

    return save


@contextmanager
def one_row_commits(database: Database) -> Iterator[Callable[[], None]]:
    """The floor: one row, one durable commit, by the driver alone, on the same disk."""
    opened = _sqlite_row if database.dialect == "sqlite" else _postgresql_row
    with opened(database) as commit:
        yield commit


@contextmanager
def _sqlite_row(database: Database) -> Iterator[Callable[[], None]]:
    path = Path(str(database.url.database)).with_name("floor.sqlite3")
    connection = sqlite3.connect(path, isolation_level=None)
    for setting in ("journal_mode = WAL", "synchronous = FULL"):
        connection.execute(f"PRAGMA {setting}")
    connection.execute("CREATE TABLE floor (id INTEGER PRIMARY KEY, words TEXT)")

    def commit() -> None:
        connection.execute("BEGIN IMMEDIATE")
        connection.execute("INSERT INTO floor (words) VALUES (?)", (TEXT,))
        connection.execute("COMMIT")

    yield commit
    connection.close()


@contextmanager
def _postgresql_row(database: Database) -> Iterator[Callable[[], None]]:
    url = database.url.set(drivername="postgresql").render_as_string(hide_password=False)
    with psycopg.connect(url) as connection:
        connection.execute("CREATE TABLE floor (id serial PRIMARY KEY, words text)")
        connection.commit()

        def commit() -> None:
            connection.execute("INSERT INTO floor (words) VALUES (%s)", (TEXT,))
            connection.commit()

        yield commit
