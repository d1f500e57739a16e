"""The lean summary that the board reads: a pure function of a course's facts and the policy.

It holds absolute moments only. What turns late, overdue or stale with time alone is judged when it
is read; `edges` are the moments at which a reader would see something else.
"""

from collections.abc import Iterator, Mapping
from datetime import datetime

from msgspec import Struct, field, json

from app.charting.airways import depth_now, reference_now, tubes_moved
from app.charting.derive import work_out_course
from app.charting.drafted import drafts_of
from app.charting.episodes import lasting_since
from app.charting.facts import CourseFacts, Kind
from app.physiology.display import fixed
from app.rules.attempts import Worked
from app.rules.away import Away, after_pauses, away_now
from app.rules.board_cells import Cell, board_cells
from app.rules.due import CheckDue, next_check
from app.rules.due_item import DueItem
from app.rules.due_items import due_items
from app.rules.flagged import flagged
from app.rules.flags_now import FlagNow, GroupNow, OnceNow, edges_of
from app.rules.handoff_state import HandoffNow, handoff_now
from app.rules.muted import Muted, muted_now
from app.rules.policy import Policy
from app.rules.standing import Statement, statements
from app.rules.unit_clock import UnitClock
from app.rules.ventilator_day import Counted, counted
from app.rules.watch.policies import Policies, in_time
from app.rules.watched import Watching


class AirwayNow(Struct, frozen=True):
    """The airway in place, as the board names it."""

    category: str
    size_mm: str
    depth_cm: str
    depth_reference: str
    difficult: str


class BedSummary(Struct, frozen=True):
    """What the board needs of one course, and nothing else."""

    name: str
    record_tail: str
    age_y: int | None
    sex: str
    adult: bool
    support_started_at: datetime
    family: str
    family_since: datetime | None
    airway: AirwayNow | None
    cells: Mapping[str, Cell]
    statements: tuple[Statement, ...]
    due: CheckDue
    last_check_at: datetime | None
    last_check_by: str
    policy_version: int
    handoff: HandoffNow = field(default_factory=HandoffNow)
    drafts: int = 0
    """Checks that nobody has signed: counted for whoever signs, and facts for nobody."""
    groups: tuple[GroupNow, ...] = ()
    """Open flags by cause; those that time alone will raise are among them (see `as_of`)."""
    once: tuple[OnceNow, ...] = ()
    """Values that lie outside once: to be read again, no flags yet (decision 26)."""
    told: tuple[FlagNow, ...] = ()
    """What the rules tell as information."""
    due_items: tuple[DueItem, ...] = ()
    """Everything that is due, soonest first (see `due_items`)."""
    away: Away | None = None
    """Since when what is due is paused."""
    days: Counted | None = None
    """From where the ventilator days are counted."""
    muted: Muted | None = None
    """Why nothing is judged or due."""
    lasting: Mapping[str, datetime] = field(default_factory=dict)
    """Since when each kind of event goes on that lasts and has not ended."""

    def flags_at(self, now: datetime) -> tuple[GroupNow, ...]:
        """The causes with an open flag at `now`, safety last."""
        at_now = (group.as_of(now) for group in self.groups)
        return tuple(group for group in at_now if group is not None)

    def edges(self) -> Iterator[datetime]:
        """Every moment at which time alone changes what the board shows, in no order.

        Of what is due the board shows the check alone; a page with the whole list asks `due_items`.
        """
        yield from (self.due.late_at, self.due.overdue_at)
        yield from (cell.stale_at for cell in self.cells.values() if cell.stale_at)
        yield from (entry.holds_until for entry in self.statements if entry.holds_until)
        yield from edges_of(self.groups)
        if self.away is not None:
            yield self.away.no_word_at()
        if self.handoff.lead_may_take_at:
            yield self.handoff.lead_may_take_at


_TEXT = json.Decoder(BedSummary)


def to_text(summary: BedSummary) -> str:
    """The summary as the text that is stored."""
    return json.encode(summary).decode()


def from_text(text: str) -> BedSummary:
    """The summary read back from its text."""
    return _TEXT.decode(text)


def work_out(facts: CourseFacts, policies: Policies | Policy) -> Worked:
    """Every standing row of the course with its indices, by the site's figures of its moment."""
    return work_out_course(facts, in_time(policies).site)


def summarise(
    facts: CourseFacts, policy: Policy, clock: UnitClock, watching: Watching | None = None
) -> BedSummary:
    """Summarise one course as it is known, whatever the hour: `now` plays no part.

    `watching` holds the policies that were in force before; without it `policy` always was.
    """
    watching = watching or Watching(Policies(policy))
    worked = work_out(facts, watching.policies)
    return summarise_worked(facts, worked, policy, clock, watching)


def summarise_worked(
    facts: CourseFacts,
    worked: Worked,
    policy: Policy,
    clock: UnitClock,
    watching: Watching | None = None,
) -> BedSummary:
    """The same for a course whose rows are worked out already."""
    watching = watching or Watching(Policies(policy))
    told = statements(facts, worked, policy, watching.policies.at)
    found = flagged(facts, told, policy, watching)
    full = [row for row in facts.standing if row.kind is Kind.FULL]
    last = full[-1] if full else None
    anchor = last.observed_at if last else facts.support_started_at
    size = facts.body_sizes[-1] if facts.body_sizes else None
    family, since = _family(facts)
    due = next_check(anchor, policy.rounds, clock)
    due = due.moved_to(after_pauses(due.due_at, facts.events))
    return BedSummary(
        name=facts.identity.name,
        record_tail=facts.identity.record_number[-4:],
        age_y=facts.age_y,
        sex=size.pbw_sex if size else "",
        adult=facts.age_y is None or facts.age_y >= policy.adult_age_y,
        support_started_at=facts.support_started_at,
        family=family,
        family_since=since,
        airway=_airway(facts),
        cells=board_cells(facts, worked, policy, family, since),
        statements=found.statements,
        due=due,
        last_check_at=last.observed_at if last else None,
        last_check_by=last.author if last else "",
        policy_version=policy.version,
        handoff=handoff_now(facts),
        drafts=len(drafts_of(facts)),
        groups=found.groups,
        once=found.once,
        told=found.told,
        due_items=due_items(facts, due, found.once, family, policy, clock),
        away=away_now(facts, family, since),
        days=counted(facts, policy.ventilator_gap_days, clock),
        muted=muted_now(facts),
        lasting=lasting_since(facts.events),
    )


def _family(facts: CourseFacts) -> tuple[str, datetime | None]:
    """The family charted last and since when; none, since a tube that ended it came or went.

    Standby, where that is charted and nothing of the machine after it.
    """
    family, since, charted = "", None, None
    for row in facts.standing:
        if row.mode_family and row.mode_family != family:
            family, since = row.mode_family, row.observed_at
        charted = row.observed_at if row.mode_family else charted
    moved_at = None
    for moved in tubes_moved(facts.airways):
        is_later = charted is None or charted <= moved.at
        if moved_at is None and is_later and (not family or moved.ends(family)):
            moved_at = moved.at
    standby = lasting_since(facts.events).get("standby")
    looked = max(filter(None, (charted, moved_at)), default=None)
    if standby is not None and (looked is None or standby >= looked):
        return "standby", standby
    if moved_at is not None:
        return "", moved_at
    return family, since


def _airway(facts: CourseFacts) -> AirwayNow | None:
    if not facts.airways:
        return None
    airway = facts.airways[-1]
    last = facts.standing[-1].observed_at if facts.standing else airway.observed_at
    depth = depth_now(facts, airway, last)
    return AirwayNow(
        airway.category,
        fixed(airway.size_mm, 1) if airway.size_mm is not None else "",
        f"{depth:f}" if depth is not None else "",
        reference_now(facts, airway),
        airway.difficult,
    )
