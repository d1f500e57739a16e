"""Which bed comes first: what lies outside a limit, safety, overdue, drift, and then the rest.

An order for looking, no score: two beds of one kind stand by how long it has been so, the longest
first. That an overdue check comes before a mild drift, and that safety is counted apart from the
lungs, is engineering judgement for the unit to ratify.
"""

from datetime import datetime

from msgspec import Struct

from app.pages.board import BoardBed, is_safety_flag
from app.pages.shown import Tone, Worry
from app.pages.site_words import PLAIN, SiteWords
from app.pages.worries import NO_FLAG, worries_of
from app.rules.bed_summary import BedSummary
from app.rules.flags_now import GroupNow
from app.rules.unit_clock import UnitClock

OUTSIDE, SAFETY_FIRST, OVERDUE, DRIFT, AWAY, ONCE, SEEN, NOT_EVALUABLE, QUIET, MUTED, EMPTY = range(
    11
)

NO_PATIENT = "Empty"

_BY_TONE = {
    Tone.OVERDUE: OVERDUE,
    Tone.AWAY: AWAY,
    Tone.MUTED: MUTED,
    Tone.ONCE: ONCE,
    Tone.SEEN: SEEN,
    Tone.NOT_EVALUABLE: NOT_EVALUABLE,
}


class Placed(Struct, frozen=True):
    """A bed with the line that puts it where it is."""

    bed: BoardBed
    rank: int
    line: Worry
    others: int
    since: datetime | None
    worries: tuple[Worry, ...] = ()
    """Everything that is said of the bed, this line among it."""

    @property
    def tones(self) -> frozenset[Tone]:
        """What is true of the bed: a flagged one may also hold what cannot be judged."""
        return frozenset(worry.tone for worry in self.worries)

    @property
    def flagged(self) -> bool:
        """Whether a flag that nobody has seen stands here, safety apart."""
        return any(each.tone is Tone.FLAG and not is_safety_flag(each) for each in self.worries)

    @property
    def safety(self) -> bool:
        """Whether one of safety does; it is counted apart, as on the board."""
        return any(map(is_safety_flag, self.worries))


def bed_key(code: str) -> tuple[str, int]:
    """Beds by their letters and then their number: L2 before L10."""
    letters = code.rstrip("0123456789")
    digits = code[len(letters) :]
    return letters, int(digits or 0)


def placed(bed: BoardBed, now: datetime, clock: UnitClock, words: SiteWords = PLAIN) -> Placed:
    """The bed at `now`; an empty one, and one with nothing to say, have a line too."""
    summary = bed.summary
    if summary is None:
        return Placed(bed, EMPTY, Worry(Tone.QUIET, bed.note or NO_PATIENT), 0, None)
    groups = {group.group: group for group in summary.flags_at(now)} if summary.adult else {}
    worries = worries_of(
        summary, now, clock, words=words, base=f"/courses/{bed.course_id}", brief=True
    )
    found = sorted(
        (
            (_rank(worry, groups), place, worry)
            for place, worry in enumerate(worries)
            if worry.tone is not Tone.NOTE
        ),
        key=lambda each: each[:2],
    )
    if not found:
        return Placed(bed, QUIET, Worry(Tone.QUIET, NO_FLAG), 0, None)
    rank, _, line = found[0]
    since = _since(line, rank, groups, summary)
    return Placed(bed, rank, line, len(found) - 1, since, worries)


def _rank(worry: Worry, groups: dict[str, GroupNow]) -> int:
    if worry.tone is not Tone.FLAG:
        return _BY_TONE.get(worry.tone, QUIET)
    group = groups[worry.group]
    if group.safety:
        return SAFETY_FIRST
    return DRIFT if all(told.flag.drift for told in group.flags) else OUTSIDE


def _since(
    line: Worry, rank: int, groups: dict[str, GroupNow], summary: BedSummary
) -> datetime | None:
    if rank == OVERDUE:
        return summary.due.due_at
    flagged = rank in (OUTSIDE, SAFETY_FIRST, DRIFT, SEEN) and line.group in groups
    return groups[line.group].since if flagged else None


def in_order(found: list[Placed], order: str) -> list[Placed]:
    """By worry, or by bed where the address asks for it."""
    if order == "bed":
        return sorted(found, key=lambda each: bed_key(each.bed.code))
    return sorted(found, key=_by_worry)


def _by_worry(each: Placed) -> tuple[int, bool, float, tuple[str, int]]:
    """Rank, then age, then bed; a line without a beginning comes after those that have one."""
    since = each.since.timestamp() if each.since else 0.0
    return each.rank, each.since is None, since, bed_key(each.bed.code)
