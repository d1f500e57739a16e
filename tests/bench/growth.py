"""`make bench-growth`: the same unit with 10⁵ and with 10⁷ readings behind it, side by side."""

from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from datetime import timedelta
from pathlib import Path
from time import perf_counter

from app.record.courses import course_facts
from app.record.database import Database
from tests.bench.board import Viewer
from tests.bench.engines import sqlite
from tests.bench.figures import Figure, table
from tests.bench.fill import fill
from tests.bench.saving import whole_action
from tests.bench.serve import serving
from tests.bench.timing import in_turns, say
from tests.bench.unit import Unit, open_unit

FEW, MANY = 10**5, 10**7
BEDS, CHECKS = 10, 40
"""Courses of a week: their checks are copied until there are enough readings."""

MOST = 1.5
ROUNDS, EACH = 7, 12


def main() -> None:
    """Fill two records, measure, print, and leave nothing behind."""
    with ExitStack() as stack:
        few, many = (stack.enter_context(_filled(readings)) for readings in (FEW, MANY))
        print(table(_figures(few, many)))  # noqa: T201


@contextmanager
def _filled(readings: int) -> Iterator[Unit]:
    with sqlite() as database:
        unit = open_unit(database, BEDS, CHECKS)
        database.close()
        started = perf_counter()
        counted = fill(str(database.url.database), readings)
        took = perf_counter() - started
        say(f"{counted} readings, {_gigabytes(database):.2f} GB, filled in {took:.0f} s")
        yield unit


def _gigabytes(database: Database) -> float:
    return Path(str(database.url.database)).stat().st_size / 1e9


def _figures(few: Unit, many: Unit) -> Iterator[Figure]:
    yield _against("board of 10 beds drawn anew", *_board(few, many))
    yield _against("24-h trend", *_each(_trend, few, many))
    yield _against("saving one assessment", *_each(whole_action, few, many))


def _against(what: str, few: float, many: float) -> Figure:
    return Figure(f"{what}, 10⁷ against 10⁵ readings", few, many, at_most=MOST)


def _each(act: Callable[[Unit], Callable[[], None]], few: Unit, many: Unit) -> list[float]:
    return in_turns(act(few), act(many), rounds=ROUNDS, each=EACH)


def _trend(unit: Unit) -> Callable[[], None]:
    """Everything observed in the last day of one course, read from the record itself."""

    def read() -> None:
        with unit.database.reading() as session:
            since = unit.clock.now - timedelta(hours=24)
            course_facts(session, unit.courses[0], since=since)

    return read


def _board(few: Unit, many: Unit) -> list[float]:
    def bump() -> None:
        for unit in (few, many):
            unit.bump(unit.courses)

    with ExitStack() as stack:
        opened = [stack.enter_context(_viewer(unit)).open for unit in (few, many)]
        return in_turns(*opened, rounds=ROUNDS, each=EACH, before=bump)


@contextmanager
def _viewer(unit: Unit) -> Iterator[Viewer]:
    with serving(unit.database.url.render_as_string(hide_password=False)) as line:
        viewer = Viewer(line)
        viewer.sign_in()
        yield viewer


if __name__ == "__main__":
    main()
