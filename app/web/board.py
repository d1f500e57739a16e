"""The board for one viewer, and the version that says whether it would look any different.

The version covers the summaries, the beds, the policy, the viewer, and the last moment at which
time alone changed something (late, overdue, stale). Those moments are read out of the summaries
once for each state of the record and kept here, so that an unchanged board costs one small query.
"""

import hashlib
from bisect import bisect_right
from dataclasses import dataclass
from datetime import datetime
from threading import Lock

from sqlmodel import Session

from app.pages.board import BoardBed, board_page
from app.pages.board_page import BoardPage
from app.pages.frame import Frame
from app.record.judging import judging
from app.record.summaries import board_rows, board_stamp
from app.rules.bed_summary import BedSummary, from_text
from app.web.visit import Visit


@dataclass(frozen=True, slots=True)
class _Edges:
    """The time edges of one state of a unit's board, sorted."""

    mark: str
    moments: tuple[datetime, ...]

    def passed(self, now: datetime) -> int:
        """How many of them lie behind: it grows when time alone has changed something."""
        return bisect_right(self.moments, now)


_kept: dict[str, _Edges] = {}
_one_at_a_time = Lock()


def board_version(visit: Visit) -> str:
    """What the board would be called if it were drawn now."""
    with visit.reading() as session:
        return _version(visit, session)


def board_now(frame: Frame, visit: Visit) -> BoardPage:
    """The board as it stands, with the version it was read at."""
    with visit.reading() as session:
        version = _version(visit, session)
        beds = _beds(session, visit.unit.id)
        judge = judging(session, visit.unit.id, visit.now)
    return board_page(
        frame, beds, policy=judge.policy, clock=judge.clock, now=visit.now, version=version
    )


def _beds(session: Session, unit_id: str) -> list[BoardBed]:
    return [
        BoardBed(row.bed_code, "", from_text(row.cells) if row.cells else None, row.course_id or "")
        for row in board_rows(session, unit_id)
        if row.bed_id is not None
    ]


def _version(visit: Visit, session: Session) -> str:
    stamp = board_stamp(session, visit.unit.id)
    edges = _edges_of(
        session, visit.site.database.url.render_as_string(), visit.unit.id, stamp.mark
    )
    parts = (stamp.mark, visit.person.id, visit.person.role, str(edges.passed(visit.now)))
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()[:20]


def _edges_of(session: Session, store: str, unit_id: str, mark: str) -> _Edges:
    key = f"{store} {unit_id}"
    held = _kept.get(key)
    if held is None or held.mark != mark:
        summaries: list[BedSummary] = [
            bed.summary for bed in _beds(session, unit_id) if bed.summary is not None
        ]
        moments = sorted({edge for summary in summaries for edge in summary.edges()})
        held = _Edges(mark, tuple(moments))
        with _one_at_a_time:
            _kept[key] = held
    return held
