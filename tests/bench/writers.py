"""Eight people who save at the same time: nobody gets an error, and nobody waits much longer."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from functools import partial
from statistics import quantiles

from app.record.database import Database
from tests.bench.figures import Figure
from tests.bench.timing import say, timed
from tests.bench.unit import Unit, open_unit

WRITERS = 8
SAVES = 60
MOST = 15


def writers_figures(database: Database) -> Iterator[Figure]:
    """The 99th of a hundred waits, against the 50th; an error would end the run."""
    say(f"{WRITERS} writers, {database.dialect}")
    unit = open_unit(database, beds=WRITERS)
    with ThreadPoolExecutor(WRITERS) as people:
        shifts = people.map(partial(_shift, unit), unit.courses)
        waits = [wait for shift in shifts for wait in shift]
    of_hundred = quantiles(waits, n=100)
    yield Figure(
        f"{WRITERS} writers, p99 against p50, {database.dialect}",
        of_hundred[49],
        of_hundred[98],
        at_most=MOST,
    )


def _shift(unit: Unit, course_id: str) -> list[float]:
    """One person's saves, each of another minute."""
    start = unit.clock.now - timedelta(hours=2)
    moments = (start + timedelta(minutes=number) for number in range(SAVES))
    return [timed(lambda at=at: unit.chart(course_id, at)) for at in moments]
