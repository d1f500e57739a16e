"""Everything that is due at a bed, in order of time: what, when, and by which rule.

A pure function of facts and policy, in absolute moments; whether something is late or overdue is
judged when it is read, and an overdue item keeps its age. The times are anchored to what was
charted: rounds to the unit's clock (decision 30), the rest to the value or event that asks for it.
"""

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, time, timedelta

from app.charting.facts import Assessment, CourseFacts, Kind, Reading
from app.charting.handing_over import Task
from app.charting.mode_families import family_of
from app.rules.away import PAUSING, after_pauses, counting_on, pauses_of
from app.rules.due import CheckDue
from app.rules.due_item import DueItem, soon
from app.rules.due_treatments import treatments_due
from app.rules.episodes_due import episodes_due
from app.rules.flags_now import OnceNow
from app.rules.muted import muted_now
from app.rules.policy import Policy
from app.rules.tubeless import tube_out_at
from app.rules.unit_clock import UnitClock

AFTER_A_CHANGE = timedelta(minutes=30)
"""A look, and a gas where breathing was changed: 15 to 30 minutes after (common practice)."""

ASKED_FOR = timedelta(hours=12)
"""A change longer ago asks for nothing any more: the rounds have looked since (judgement)."""

FILTER_DAYS = 2
"""Days of a heat-moisture exchanger: at least 48 h (AARC guideline 2003, from memory)."""

READ_AGAIN = "read_again"
"""The kind whose `what` is the series that is to be read again."""

CUFFED = ("ett", "trach")
_BREATH = {"peep_set": "peep", "resp_rate_set": "set_rate"}
"""Settings whose change asks for a gas, and the policy's `[rules.baseline]` number for each."""


def due_items(
    facts: CourseFacts,
    check: CheckDue,
    once: Iterable[OnceNow],
    family: str,
    policy: Policy,
    clock: UnitClock,
) -> tuple[DueItem, ...]:
    """What is due for a course, soonest first; nothing for one that is closed or muted.

    What fell due while the patient was away is due at the return, and so is a full check.
    """
    if muted_now(facts) is not None:
        return ()
    rows = facts.standing
    found = [
        DueItem("check", "full check", check.due_at, check.late_at, check.overdue_at, "rounds"),
        *_after_return(facts, rows),
        *(_shifted(item, facts) for item in _asked_by_values(facts, rows, family, policy, clock)),
        *(_shifted(_again(each), facts) for each in once),
        *_tasks(facts, policy),
        *(_shifted(item, facts) for item in treatments_due(facts, policy)),
    ]
    return tuple(sorted(found, key=lambda item: (item.due_at, item.kind, item.what)))


def _asked_by_values(
    facts: CourseFacts,
    rows: Sequence[Assessment],
    family: str,
    policy: Policy,
    clock: UnitClock,
) -> Iterator[DueItem]:
    yield from _after_change(rows, policy, clock)
    yield from _plateau(facts, rows, family, policy)
    yield from _cuff(facts, rows, policy)
    yield from episodes_due(facts, family, policy)
    if tube_out_at(facts) is None:
        yield from _filter(rows, policy, clock)


def _shifted(item: DueItem, facts: CourseFacts) -> DueItem:
    due_at = after_pauses(item.due_at, facts.events)
    by = due_at - item.due_at
    if not by:
        return item
    late, overdue = item.late_at + by, item.overdue_at + by
    return DueItem(item.kind, item.what, due_at, late, overdue, item.source, item.owner)


def _after_return(facts: CourseFacts, rows: Sequence[Assessment]) -> Iterator[DueItem]:
    """Settings and lungs after a transport or standby are nobody's until somebody has looked."""
    ends = [
        (event.ended_at, event.kind)
        for event in facts.events
        if event.kind in PAUSING and event.ended_at is not None
    ]
    back, kind = max(ends, default=(None, ""))
    if back is None:
        return
    if not any(row.kind is Kind.FULL and row.observed_at >= back for row in rows):
        what, source = _AFTER[kind]
        yield soon("return", what, back, source)


_AFTER = {
    "away": ("full check after the return", "after a transport"),
    "standby": ("full check after standby", "after standby"),
}


def _after_change(
    rows: Sequence[Assessment], policy: Policy, clock: UnitClock
) -> Iterator[DueItem]:
    """After the newest change of the breath: a look, and a gas, unless either came since."""
    changed = _changed_at(rows, policy)
    if changed is None:
        return
    due_at = changed + AFTER_A_CHANGE
    at = f"{clock.local(changed):%H:%M}"
    later = [row for row in rows if row.observed_at > changed]
    if not any(row.kind in (Kind.FULL, Kind.BRIEF) for row in later):
        yield soon("after_change", f"look after the change at {at}", due_at, "after a change")
    if not any(row.kind is Kind.GAS for row in later):
        yield soon("gas", f"gas after the change at {at}", due_at, "after a change")


def _changed_at(rows: Sequence[Assessment], policy: Policy) -> datetime | None:
    """When the mode, PEEP or the set rate was last changed by as much as restarts a baseline."""
    figures = policy.rules.get("baseline")
    newest = rows[-1].observed_at if rows else None
    held: dict[str, float] = {}
    family, found = "", None
    for row in rows:
        if row.mode_family and row.mode_family != family:
            if family and family_of(row.mode_family).invasive:
                found = row.observed_at
            family = row.mode_family
        for code, name in _BREATH.items():
            least = figures.get(name) if figures is not None else None
            value = _number(row.readings.get(code))
            if value is None or least is None:
                continue
            before = held.setdefault(code, value)
            if abs(value - before) >= least:
                held[code], found = value, row.observed_at
    recent = found is not None and newest is not None and newest - found <= ASKED_FOR
    return found if recent else None


def _number(reading: Reading | None) -> float | None:
    if reading is None or reading.number is None or not reading.has_value:
        return None
    return float(reading.number)


def _plateau(
    facts: CourseFacts, rows: Sequence[Assessment], family: str, policy: Policy
) -> Iterator[DueItem]:
    """In a controlled mode: the next one before the last is too old; the flag comes with its rule.

    A plateau that was marked as not done with a reason asks again after 4 h, as any round does.
    """
    rule, limit = policy.rules.get("plateau_overdue"), policy.limits.get("plateau_pressure_obs")
    if not family_of(family).controlled or rule is None or not rule.on:
        return
    since = _controlled_since(rows)
    read = _last_at(rows, "plateau_pressure_obs")
    since = max(filter(None, (since, read)), default=None)
    if since is None:
        return
    pauses = pauses_of(facts.events)
    hours = float(limit.stale_h) if limit is not None else rule["hours"] / 2
    due_at = counting_on(since, min(hours, rule["hours"]), pauses)
    overdue = counting_on(since, rule["hours"], pauses)
    if due_at is None or overdue is None:
        return
    yield DueItem("plateau", "plateau", due_at, due_at, overdue, "plateau in a controlled mode")


def _controlled_since(rows: Sequence[Assessment]) -> datetime | None:
    since = None
    for row in rows:
        if not row.mode_family:
            continue
        if not family_of(row.mode_family).controlled:
            since = None
        elif since is None:
            since = row.observed_at
    return since


def _cuff(facts: CourseFacts, rows: Sequence[Assessment], policy: Policy) -> Iterator[DueItem]:
    """The cuff of a tube in place: before its last pressure is too old; soon after a new tube."""
    tube = facts.airways[-1] if facts.airways else None
    if tube is None or tube.act == "removed" or not tube.category.startswith(CUFFED):
        return
    read = _last_at(rows, "cuff_pressure_cmh2o", tube.observed_at)
    if read is None:
        yield soon("cuff", "cuff pressure", tube.observed_at + timedelta(hours=1), "new tube")
        return
    due_at = read + timedelta(hours=float(policy.stale_h.get("cuff", policy.stale_h["measured"])))
    late, overdue = _grace(due_at, policy)
    yield DueItem("cuff", "cuff pressure", due_at, late, overdue, "cuff by manometer")


def _last_at(
    rows: Sequence[Assessment], code: str, since: datetime | None = None
) -> datetime | None:
    """When the field was last read as a number."""
    for row in reversed(rows):
        if since is not None and row.observed_at < since:
            return None
        if _number(row.readings.get(code)) is not None:
            return row.observed_at
    return None


def _filter(rows: Sequence[Assessment], policy: Policy, clock: UnitClock) -> Iterator[DueItem]:
    """A heat-moisture exchanger in line has its date; a heated circuit is changed when soiled."""
    latest: dict[str, Reading] = {}
    for row in rows:
        for code in ("humidifier", "filter_changed_on"):
            if code in row.readings:
                latest[code] = row.readings[code]
    humidifier, changed = latest.get("humidifier"), latest.get("filter_changed_on")
    if humidifier is None or changed is None or not humidifier.word.startswith("hme"):
        return
    day = _day(changed.word)
    if day is None:
        return
    wall = datetime.combine(day + timedelta(days=FILTER_DAYS), policy.rounds.times[0] or time())
    due_at = clock.first_moment(wall)[0]
    late, overdue = _grace(due_at, policy)
    yield DueItem("filter", "heat-moisture exchanger", due_at, late, overdue, "date of the filter")


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None


def _again(told: OnceNow) -> DueItem:
    once = told.once
    return soon(READ_AGAIN, once.series, once.read_again_at, "outside once")


def _tasks(facts: CourseFacts, policy: Policy) -> Iterator[DueItem]:
    yield from filter(None, (task_due(task, policy) for task in facts.tasks))


def task_due(task: Task, policy: Policy) -> DueItem | None:
    """When a task is due and when it is late; None for one that is settled or has no time."""
    if not task.is_open or task.due_at is None:
        return None
    late, overdue = _grace(task.due_at, policy)
    source = {"order": "an order", "rule": "the unit's rule"}.get(task.source, "a person")
    return DueItem("task", task.words, task.due_at, late, overdue, source, task.owner)


def _grace(due_at: datetime, policy: Policy) -> tuple[datetime, datetime]:
    rounds = policy.rounds
    late, overdue = rounds.late_after_min, rounds.overdue_after_min
    return due_at + timedelta(minutes=late), due_at + timedelta(minutes=overdue)
