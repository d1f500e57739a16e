"""The board for one viewer, and the version that says whether it would look any different."""

import hashlib
from collections.abc import Sequence
from datetime import datetime

from msgspec import Struct

from app.pages.board import board_of_rows
from app.pages.board_page import BoardPage
from app.pages.frame import Frame
from app.record.judging import policy_at
from app.rules.policy import Policy
from app.web.kept import Memory
from app.web.kept_beds import AtTime, KeptBed
from app.web.visit import Visit

_BOARD = "board"


class Board(Struct, frozen=True):
    """The board of one state of the record, for any viewer at any moment."""

    beds: Sequence[KeptBed]
    edges: Sequence[datetime]
    mark: str
    policy: Policy

    def version(self, visit: Visit) -> str:
        """What the board is called for this viewer now; as quickly told for a thousand beds."""
        when = AtTime.of(visit.now, visit.clock, self.edges)
        viewer = visit.person
        return _short((self.mark, viewer.id, viewer.role, when.day, when.clock, when.passed))


def version_kept(visit: Visit, memory: Memory) -> str:
    """What the board would be called if it were drawn now; empty where it has to be read first."""
    board: Board | None = memory.get(_BOARD)
    return board.version(visit) if board is not None else ""


def board_version(visit: Visit, memory: Memory) -> str:
    """The same, read first where it has to be."""
    return board_of(visit, memory).version(visit)


def board_now(frame: Frame, visit: Visit, memory: Memory) -> BoardPage:
    """The board as it stands, with the version it was read at."""
    board = board_of(visit, memory)
    today = AtTime.of(visit.now, visit.clock, board.edges)
    rows = [bed.row(visit.now, today, visit.site.words) for bed in board.beds]
    return board_of_rows(frame, rows, policy=board.policy, version=board.version(visit))


def board_of(visit: Visit, memory: Memory) -> Board:
    """The board of this state of the record, read where it was not yet."""
    board: Board | None = memory.get(_BOARD)
    if board is None:
        with visit.reading() as session:
            beds = visit.site.beds.read(session, visit.unit.id)
            policy = policy_at(session, visit.unit.id, visit.now)
        edges = sorted({edge for bed in beds for edge in bed.edges})
        mark = _short((policy.version, *(bed.line for bed in beds)))
        board = memory[_BOARD] = Board(beds, edges, mark, policy)
    return board


def _short(said: object) -> str:
    return hashlib.sha256(repr(said).encode()).hexdigest()[:20]
