"""Build the lead's scan: beds in order of worry, what is open, and who has how much."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from datetime import datetime, timedelta

from msgspec import Struct
from msgspec.structs import replace

from app.charting.mode_families import family_of
from app.pages.assigned_words import assigned_words, cover_words
from app.pages.board import BoardBed
from app.pages.due_words import due_line
from app.pages.frame import Frame, NavLink
from app.pages.handing_over import hold_words
from app.pages.scan_order import (
    EMPTY,
    NO_PATIENT,
    QUIET,
    SEEN,
    Placed,
    bed_key,
    in_order,
    placed,
)
from app.pages.scan_page import CalmBed, CalmBeds, ScanBed, ScanLine, ScanList, ScanPage
from app.pages.shown import Count, Tone, Worry
from app.pages.site_words import PLAIN, SiteWords
from app.pages.times import clock_time
from app.pages.unsigned import drafts_words
from app.rules.bed_summary import BedSummary
from app.rules.due_item import DueItem
from app.rules.flags_now import SAFETY
from app.rules.shift_plan import Plan
from app.rules.unit_clock import UnitClock

FILTERS = {"all": "All beds", "worry": "Beds to look at", "judge": "Cannot be judged"}
ORDERS = {"worry": "By worry", "bed": "By bed"}
AHEAD = timedelta(hours=12)
"""What is expected is looked for over the length of a shift (common practice)."""

CORRIDOR_WORDS = {
    Tone.FLAG: "Flag raised",
    Tone.SEEN: "Flag raised and seen",
    Tone.OVERDUE: "Check overdue",
    Tone.ONCE: "Outside once",
    Tone.AWAY: "Away",
    Tone.MUTED: "Muted",
    Tone.NOT_EVALUABLE: "Cannot be judged",
}
"""What a passer-by may read of a bed: its state, no value and no name."""


class Asked(Struct, frozen=True):
    """What the address asks for; anything it does not know is the first of its kind."""

    show: str = "all"
    order: str = "worry"
    corridor: bool = False

    def href(self, **changes: str | bool) -> str:
        """The address of the same scan with something changed."""
        told = {"show": self.show, "order": self.order, "corridor": self.corridor} | changes
        view = "&view=corridor" if told["corridor"] else ""
        return f"/scan?show={told['show']}&order={told['order']}{view}"


def asked_for(show: str, order: str, view: str) -> Asked:
    """The address as one of the views there are."""
    return Asked(
        show if show in FILTERS else "all",
        order if order in ORDERS else "worry",
        view == "corridor",
    )


def scan_page(
    frame: Frame,
    beds: Sequence[BoardBed],
    asked: Asked,
    *,
    clock: UnitClock,
    now: datetime,
    version: str,
    words: SiteWords = PLAIN,
    plan: Plan | None = None,
) -> ScanPage:
    """The scan at `now`."""
    found = in_order([placed(bed, now, clock, words) for bed in beds], asked.order)
    shown = [each for each in found if _shown(each, asked.show)]
    draw = _in_the_corridor if asked.corridor else _bed
    folded = asked.order == "worry"
    in_rows = [each for each in shown if not (folded and _is_calm(each))]
    left_out = len(found) - len(shown)
    return ScanPage(
        frame=frame,
        read_at=clock_time(now, now, clock),
        counts=_counts(found),
        supports=_supports(beds),
        filters=_links(FILTERS, asked.show, lambda code: asked.href(show=code)),
        orders=_links(ORDERS, asked.order, lambda code: asked.href(order=code)),
        beds=tuple(draw(each, now, clock, plan) for each in in_rows),
        calm=tuple(_calm(shown, None if asked.corridor else plan, corridor=asked.corridor))
        if folded
        else (),
        left_out=f"Not shown: {left_out} of {len(found)} beds" if left_out else "",
        loads=() if asked.corridor else tuple(_loads(found, now)),
        covers=() if asked.corridor else _covers(plan, now, clock),
        lists=() if asked.corridor else tuple(_lists(found, now, clock)),
        news_href=f"/scan/news?version={version}&{asked.href().partition('?')[2]}",
        here=asked.href(),
        corridor=asked.corridor,
        other_href=asked.href(corridor=not asked.corridor),
    )


def _links(choices: dict[str, str], chosen: str, href: Callable[[str], str]) -> tuple[NavLink, ...]:
    return tuple(
        NavLink(label, href(code), current=code == chosen) for code, label in choices.items()
    )


def _shown(each: Placed, show: str) -> bool:
    if show == "worry":
        return each.rank < QUIET
    return show == "all" or Tone.NOT_EVALUABLE in each.tones


def _bed(each: Placed, now: datetime, clock: UnitClock, plan: Plan | None) -> ScanBed:
    summary = each.bed.summary
    since = clock_time(each.since, now, clock) if each.since else ""
    line, at = each.line, each.line.when
    if line.tone is Tone.FLAG:  # since when it is so stands behind it; its own page says the rest
        line = replace(line, detail="")
    return ScanBed(
        bed=each.bed.code,
        href=f"/beds/{each.bed.code}",
        who=summary.name if summary else "",
        line=replace(line, when=None),
        at=at,
        more=f"and {each.others} more" if each.others else "",
        hold=_hold(each.bed, plan, now, clock),
        since=f"since {since}" if since else "",
    )


def _is_calm(each: Placed) -> bool:
    """Nothing is to be said of the bed, not even why it stands empty."""
    return each.rank == QUIET or (each.rank == EMPTY and each.line.words == NO_PATIENT)


def _calm(shown: Sequence[Placed], plan: Plan | None, *, corridor: bool) -> Iterator[CalmBeds]:
    for rank in (QUIET, EMPTY):
        beds = sorted((each for each in shown if each.rank == rank and _is_calm(each)), key=_by_bed)
        if beds:
            found = tuple(_calm_bed(each.bed, plan, corridor=corridor) for each in beds)
            yield CalmBeds(beds[0].line.words, found)


def _calm_bed(bed: BoardBed, plan: Plan | None, *, corridor: bool) -> CalmBed:
    has_one = bed.summary is not None and not corridor
    holder = (bed.summary.handoff.holder or "nobody") if has_one and bed.summary else ""
    assigned = assigned_words(plan, bed.code, bed.summary.handoff) if bed.summary else ""
    return CalmBed(bed.code, f"/beds/{bed.code}", ", ".join(filter(None, (holder, assigned))))


def _hold(bed: BoardBed, plan: Plan | None, now: datetime, clock: UnitClock) -> str:
    """Who has the bed, and who is to have it where that is somebody else."""
    if bed.summary is None:
        return ""
    told = bed.summary.handoff
    parts = (hold_words(told, clock, now), assigned_words(plan, bed.code, told))
    return "; ".join(filter(None, parts))


def _in_the_corridor(
    each: Placed, _now: datetime, _clock: UnitClock, _plan: Plan | None
) -> ScanBed:
    words = "Empty" if each.rank == EMPTY else CORRIDOR_WORDS.get(each.line.tone, each.line.words)
    line = Worry(each.line.tone, words)
    return ScanBed(each.bed.code, f"/beds/{each.bed.code}", "", line, "", "", "")


def _counts(found: Sequence[Placed]) -> tuple[Count, ...]:
    """Beds, not lines: a bed counts under each thing that is true of it, as on the board."""
    tally = Counter(tone for each in found for tone in each.tones)
    flagged = sum(each.flagged for each in found)
    safety = sum(each.safety for each in found)
    quiet = sum(each.rank == QUIET for each in found)
    empty = sum(each.rank == EMPTY for each in found)
    return (
        Count(flagged, "flagged", Tone.FLAG),
        Count(safety, "with a safety flag", Tone.FLAG),
        Count(tally[Tone.OVERDUE], "with a check overdue", Tone.OVERDUE),
        Count(tally[Tone.AWAY], "away", Tone.AWAY),
        Count(tally[Tone.ONCE], "outside once", Tone.ONCE),
        Count(tally[Tone.SEEN], "flagged and seen", Tone.SEEN),
        Count(tally[Tone.NOT_EVALUABLE], "cannot be judged", Tone.NOT_EVALUABLE),
        Count(quiet, "with no flag raised"),
        Count(tally[Tone.MUTED], "quiet: nothing judged", Tone.MUTED),
        Count(empty, "empty"),
    )


def _supports(beds: Sequence[BoardBed]) -> str:
    """How the patients are supported: "6 invasive, 1 mask, 1 high-flow"."""
    tally = Counter(_support(bed.summary) for bed in beds if bed.summary is not None)
    tracheostomies = sum(
        bed.summary is not None
        and bed.summary.airway is not None
        and bed.summary.airway.category.startswith("trach")
        for bed in beds
    )
    parts = [f"{number} {what}" for what, number in tally.most_common()]
    if tracheostomies:
        parts.append(f"{tracheostomies} of them with a tracheostomy")
    return ", ".join(parts)


def _support(summary: BedSummary) -> str:
    family = family_of(summary.family)
    if not summary.family:
        return "with no mode charted"
    if summary.family == "niv":
        return "by mask"
    if summary.family == "hfnc":
        return "high-flow"
    return "invasive" if family.invasive and family.ventilates else "without a machine"


def _loads(found: Sequence[Placed], now: datetime) -> Iterator[str]:
    """What takes time, counted for each person who has beds; no weights, so nothing is hidden."""
    by_person: dict[str, list[Placed]] = {}
    for each in found:
        if each.bed.summary is not None:
            by_person.setdefault(each.bed.summary.handoff.holder, []).append(each)
    for name, theirs in sorted(by_person.items(), key=lambda pair: (pair[0] == "", pair[0])):
        to_look_at = sum(each.rank < SEEN for each in theirs)
        soon = now + timedelta(hours=4)
        due = sum(item.due_at <= soon for each in theirs for item in _items(each.bed.summary))
        beds = "1 bed" if len(theirs) == 1 else f"{len(theirs)} beds"
        yield f"{name or 'Nobody'}: {beds}, {to_look_at} to look at, {due} due within 4 h"


def _covers(plan: Plan | None, now: datetime, clock: UnitClock) -> tuple[str, ...]:
    covers = plan.covers_now(now) if plan is not None else ()
    return tuple(cover_words(cover, now, clock) for cover in covers)


def _items(summary: BedSummary | None) -> tuple[DueItem, ...]:
    return summary.due_items if summary is not None and summary.away is None else ()


def _lists(found: Sequence[Placed], now: datetime, clock: UnitClock) -> Iterator[ScanList]:
    taken = sorted((each for each in found if each.bed.summary), key=_by_bed)
    beds = [each.bed for each in taken]
    overdue = _due(beds, now, clock, lambda item: item.state(now) == "overdue")
    yield ScanList("Overdue", overdue, "Nothing is overdue")
    safety = tuple(
        _line(each.bed, worry.words)
        for each in taken
        for worry in each.worries
        if worry.group == SAFETY and worry.tone in (Tone.FLAG, Tone.SEEN)
    )
    yield ScanList("Safety", safety, "No safety flag raised")
    yield ScanList("Offered, not accepted", tuple(_offered(beds, now, clock)), "No handoff waits")
    yield ScanList("Unsigned drafts", tuple(_drafts(beds)), "No draft waits for a signature")
    expected = _due(beds, now, clock, lambda item: _expected(item, now))
    yield ScanList("Expected in the next 12 h", expected, "No task with a time is open")


def _by_bed(each: Placed) -> tuple[str, int]:
    return bed_key(each.bed.code)


def _offered(beds: Sequence[BoardBed], now: datetime, clock: UnitClock) -> Iterator[ScanLine]:
    for bed in beds:
        if bed.summary is not None and bed.summary.handoff.offered_at is not None:
            yield _line(bed, hold_words(bed.summary.handoff, clock, now))


def _drafts(beds: Sequence[BoardBed]) -> Iterator[ScanLine]:
    for bed in beds:
        if bed.summary is not None and bed.summary.drafts:
            yield _line(bed, drafts_words(bed.summary.drafts))


def _expected(item: DueItem, now: datetime) -> bool:
    """Tasks that people, orders or the unit's rules set for a time, and the end of prone."""
    is_task = item.kind in ("task", "prone")
    return is_task and item.due_at <= now + AHEAD and item.state(now) != "overdue"


def _due(
    beds: Sequence[BoardBed], now: datetime, clock: UnitClock, wanted: Callable[[DueItem], bool]
) -> tuple[ScanLine, ...]:
    found = [
        (item.due_at, bed, due_line(item, None, now, clock))
        for bed in beds
        for item in _items(bed.summary)
        if wanted(item)
    ]
    found.sort(key=lambda each: (each[0], bed_key(each[1].code)))
    return tuple(ScanLine(bed.code, f"/beds/{bed.code}", "", due) for _, bed, due in found)


def _line(bed: BoardBed, words: str) -> ScanLine:
    return ScanLine(bed.code, f"/beds/{bed.code}", words)
