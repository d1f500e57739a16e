"""The board: unchanged, with one bed changed, and drawn anew, against a fixed page of 30 KB."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from urllib.parse import quote

from app.record.database import Database
from tests.bench.figures import Figure
from tests.bench.line import Line
from tests.bench.serve import serving
from tests.bench.timing import in_turns, say
from tests.bench.unit import Unit, open_unit
from tests.site import PASSWORD

BEDS, MANY_BEDS = 24, 1000
ROUNDS = 7


class Viewer:
    """Somebody signed in, with the board in front of them."""

    def __init__(self, line: Line) -> None:
        self.line = line
        self.version = ""

    def sign_in(self) -> None:
        """Through the page, as everybody."""
        self.line.get("/sign-in")
        csrf = self._between(b'name="csrf" value="', b'"')
        self._expect(
            303, self.line.post, "/sign-in", sign_in_name="ash", password=PASSWORD, csrf=csrf
        )

    def open(self) -> None:
        """The whole page."""
        self._expect(200, self.line.get, "/")

    def look(self) -> None:
        """Keep the version of the board that stands there now."""
        self.open()
        self.version = self._between(b"/board/rows?version=", b'"')

    def refresh(self, expected: int) -> None:
        """What the page asks for by itself every few seconds."""
        self._expect(expected, self.line.get, f"/board/rows?version={quote(self.version)}")

    def _between(self, before: bytes, after: bytes) -> str:
        return self.line.body.partition(before)[2].partition(after)[0].decode()

    def _expect(self, status: int, ask: Callable[..., int], path: str, **typed: str) -> None:
        answered = ask(path, **typed)
        if answered != status:
            raise RuntimeError(f"{path} answered {answered}, not {status}")


@contextmanager
def viewing(database: Database, beds: int) -> Iterator[tuple[Unit, Viewer, Line]]:
    """A unit, somebody on its board, and the floor beside."""
    unit = open_unit(database, beds)
    with (
        serving() as floor,
        serving(str(database.url.render_as_string(hide_password=False))) as line,
    ):
        viewer = Viewer(line)
        viewer.sign_in()
        viewer.look()
        yield unit, viewer, floor


def board_figures(database: Database) -> Iterator[Figure]:
    """Everything of 24 beds; the bounds are those of SQLite, which runs in one process."""
    engine, gated = database.dialect, database.dialect == "sqlite"
    say(f"board of {BEDS} beds, {engine}")
    with viewing(database, BEDS) as (unit, viewer, floor):
        yield _unchanged(viewer, floor, f"board unchanged, {BEDS} beds, {engine}", gated=gated)
        yield _something_else(unit, viewer, floor, engine)
        yield _one_bed(unit, viewer, floor, engine, gated=gated)
        yield _drawn_anew(unit, viewer, floor, engine, gated=gated)


def many_beds_figures(database: Database) -> Iterator[Figure]:
    """The same question asked of a thousand beds."""
    say(f"board of {MANY_BEDS} beds, {database.dialect}")
    with viewing(database, MANY_BEDS) as (_unit, viewer, floor):
        yield _unchanged(
            viewer, floor, f"board unchanged, {MANY_BEDS} beds, {database.dialect}", gated=True
        )


def _page(floor: Line) -> Callable[[], int]:
    return lambda: floor.get("/")


def _unchanged(viewer: Viewer, floor: Line, what: str, *, gated: bool) -> Figure:
    times = in_turns(_page(floor), lambda: viewer.refresh(304), rounds=ROUNDS, each=200)
    return Figure(what, *times, at_most=2.0 if gated else None)


def _something_else(unit: Unit, viewer: Viewer, floor: Line, engine: str) -> Figure:
    """Nothing on the board, but something in the record: a page that somebody opened."""

    def elsewhere() -> None:
        with unit.write() as writing:
            writing.audit("view_page", course_id=unit.courses[0])

    times = in_turns(
        _page(floor), lambda: viewer.refresh(304), rounds=ROUNDS, each=20, before=elsewhere
    )
    return Figure(f"board unchanged, something else saved, {engine}", *times)


def _one_bed(unit: Unit, viewer: Viewer, floor: Line, engine: str, *, gated: bool) -> Figure:
    times = in_turns(
        _page(floor),
        lambda: viewer.refresh(200),
        rounds=ROUNDS,
        each=20,
        before=lambda: unit.bump(unit.courses[:1]),
    )
    return Figure(f"one bed of {BEDS} changed, {engine}", *times, at_most=3.0 if gated else None)


def _drawn_anew(unit: Unit, viewer: Viewer, floor: Line, engine: str, *, gated: bool) -> Figure:
    times = in_turns(
        _page(floor),
        viewer.open,
        rounds=ROUNDS,
        each=5,
        before=lambda: unit.bump(unit.courses),
    )
    return Figure(f"first render of {BEDS} beds, {engine}", *times, at_most=20 if gated else None)
