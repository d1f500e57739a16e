"""The beds of the board as they were last read and worked out, each kept until it changes.

A bed is read, worked out and drawn again only when its line in the record changed, or when time
alone changed something about it (late, overdue, stale, another day). So an unchanged board costs
next to nothing, and a changed one costs its changed beds.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from datetime import date, datetime

from msgspec import Struct
from sqlmodel import Session

from app.pages.board import BoardBed, board_row
from app.pages.board_page import BoardRow
from app.pages.site_words import PLAIN, SiteWords
from app.record.summaries import BoardLine, board_lines, cells_of
from app.rules.bed_summary import from_text
from app.rules.unit_clock import UnitClock


class AtTime(Struct, frozen=True):
    """What of the moment shows: the day, the clock, and how many edges have passed."""

    day: date
    clock: UnitClock
    passed: int

    @classmethod
    def of(cls, now: datetime, clock: UnitClock, edges: Sequence[datetime]) -> "AtTime":
        """Two equal answers look the same; `edges` are sorted."""
        return cls(clock.day(now), clock, bisect_right(edges, now))

    def at(self, now: datetime, edges: Sequence[datetime]) -> "AtTime":
        """The same day and clock beside other edges: the day is asked for once for all beds."""
        return AtTime(self.day, self.clock, bisect_right(edges, now))


class KeptBed:
    """One bed as its line stands in the record, with its row as it was last worked out."""

    def __init__(self, line: BoardLine, cells: str) -> None:
        self.line = line
        self.bed = BoardBed(
            line.bed_code, line.note, from_text(cells) if cells else None, line.course_id or ""
        )
        summary = self.bed.summary
        self.edges = sorted(set(summary.edges())) if summary is not None else []
        self._drawn: tuple[AtTime, BoardRow] | None = None

    def row(self, now: datetime, today: AtTime, words: SiteWords = PLAIN) -> BoardRow:
        """The row at `now`: the very same object as long as nothing about it changes."""
        when, drawn = today.at(now, self.edges), self._drawn
        if drawn is None or drawn[0] != when:
            drawn = self._drawn = (when, board_row(self.bed, now, today.clock, words))
        return drawn[1]


class KeptBeds:
    """The beds of the board as last read; one for the whole site."""

    def __init__(self) -> None:
        self.beds: dict[str, KeptBed] = {}

    def read(self, session: Session, unit_id: str) -> tuple[KeptBed, ...]:
        """Every bed of the board; only those whose line changed are read anew."""
        lines, kept = board_lines(session, unit_id), self.beds
        changed = [line for line in lines if not _stands(line, kept)]
        cells = cells_of(session, [line.course_id for line in changed if line.course_id])
        anew = {
            line.bed_code: KeptBed(line, cells.get(line.course_id or "", "")) for line in changed
        }
        beds = tuple(anew.get(line.bed_code) or kept[line.bed_code] for line in lines)
        self.beds = {bed.line.bed_code: bed for bed in beds}
        return beds


def _stands(line: BoardLine, kept: Mapping[str, KeptBed]) -> bool:
    bed = kept.get(line.bed_code)
    return bed is not None and bed.line == line
