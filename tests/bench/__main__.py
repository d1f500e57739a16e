"""`make bench`: everything that is promised of speed, measured in one run and printed as ratios.

Names of parts (`python -m tests.bench board startup`) measure these alone.
"""

import sys
from collections.abc import Callable, Iterator, Mapping

from tests.bench.board import board_figures, many_beds_figures
from tests.bench.engines import Postgresql, sqlite
from tests.bench.figures import Figure, table
from tests.bench.saving import saving_figures
from tests.bench.startup import startup_figures
from tests.bench.timing import say
from tests.bench.writers import writers_figures


def board(server: Postgresql) -> Iterator[Figure]:
    """The page that everybody has open."""
    with sqlite() as database:
        yield from board_figures(database)
    with sqlite() as database:
        yield from many_beds_figures(database)
    with server.fresh() as database:
        yield from board_figures(database)


def saving(server: Postgresql) -> Iterator[Figure]:
    """The button that everybody presses."""
    with sqlite() as database:
        yield from saving_figures(database)
    with server.fresh() as database:
        yield from saving_figures(database)


def writers(server: Postgresql) -> Iterator[Figure]:
    """Pressed by everybody at once."""
    with sqlite() as database:
        yield from writers_figures(database)
    with server.fresh() as database:
        yield from writers_figures(database)


def startup(_server: Postgresql) -> Iterator[Figure]:
    """The command that brings it up."""
    yield from startup_figures()


PARTS: Mapping[str, Callable[[Postgresql], Iterator[Figure]]] = {
    "board": board,
    "saving": saving,
    "writers": writers,
    "startup": startup,
}


def told(figure: Figure) -> Figure:
    """Say a figure when it is measured, for whoever waits for the table."""
    say(f"  {figure.what}: {figure.ratio:.3g} ({figure.wanted}) {figure.verdict}")
    return figure


def main() -> None:
    """Measure what was asked for, or everything, then print."""
    server = Postgresql()
    try:
        figures = [told(figure) for name in sys.argv[1:] or PARTS for figure in PARTS[name](server)]
    finally:
        server.stop()
    print(table(figures))  # noqa: T201


if __name__ == "__main__":
    main()
