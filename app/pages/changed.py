"""What changed, in words: since this shift began, or since this reader last had the bed in view."""

from datetime import datetime, timedelta

from msgspec import Struct

from app.charting.facts import CourseFacts
from app.charting.handing_over import StepKind
from app.pages.change_words import value_words, what_changed
from app.pages.changed_part import Change, ChangedPart
from app.pages.frame import NavLink
from app.pages.known import Known
from app.pages.times import clock_time, when_in
from app.rules.changes import Happened, Step, changes_since, events_since
from app.rules.handoff_state import handoff_of
from app.rules.unit_clock import UnitClock

SHIFT, LOOK = "shift", "look"
OVERLAP = timedelta(hours=1)
"""How long before a shift begins a bed may be taken for it (shifts overlap by 15 to 30 minutes,
common practice; the rest is margin, engineering judgement)."""
NOTHING = "No event, and no change of settings, airway, position, height or limits of care since."


class Since(Struct, frozen=True):
    """The moment that changes are held against, and what it was for the reader."""

    at: datetime
    words: str
    is_look: bool = False
    """Whether what was written later about an earlier time is news too."""


def since_shift(now: datetime, clock: UnitClock) -> Since:
    """Since the shift that runs at `now` began."""
    at = clock.shift_start(now)
    return Since(at, f"since {clock_time(at, now, clock)}, when this shift began")


def since_handing_over(facts: CourseFacts, now: datetime, clock: UnitClock) -> Since:
    """Since the shift began that is handed over: the one before, while whoever had the bed in it
    still has it. Who comes reads the page when the clock has passed into their own shift already.
    """
    shift, taken = since_shift(now, clock), handoff_of(facts.handoffs).taken
    before = clock.shift_start(shift.at - timedelta(seconds=1))
    if taken is None or clock.shift_start(taken.at + OVERLAP) != before:
        return shift
    at = clock_time(before, now, clock)
    return Since(before, f"since {at}, when the shift that is handed over began")


def changed_line(course: Known) -> str:
    """How much changed in the shift that is handed over, and the newest of it, in a line."""
    since = since_handing_over(course.facts, course.now, course.clock)
    changes = changes_of(course, since)
    head = f"What changed since {clock_time(since.at, course.now, course.clock)}"
    if not changes:
        return f"{head}: no event, no change"
    newest, steps = changes[-1], "1 step" if len(changes) == 1 else f"{len(changes)} steps"
    return f"{head}: {steps}, newest {_in_a_line(newest)}, {newest.when.text}"


def _in_a_line(change: Change) -> str:
    if change.is_event:
        return change.after
    before = f"from {change.before} to " if change.before else ""
    return f"{change.what}: {before}{change.after}"


def since_look(
    facts: CourseFacts, person_id: str, looked: datetime | None, now: datetime, clock: UnitClock
) -> Since | None:
    """Since this person last opened the bed or accepted it, whichever came last; None for never."""
    accepted = max(
        (step.at for step in facts.handoffs if _took(step.kind) and step.author_id == person_id),
        default=None,
    )
    named = [(looked, "opened"), (accepted, "accepted")]
    known = [(at, did) for at, did in named if at is not None and at <= now]
    if not known:
        return None
    at, did = max(known)
    return Since(at, f"since you last {did} this bed, {clock_time(at, now, clock)}", is_look=True)


def _took(kind: StepKind) -> bool:
    return kind in (StepKind.ACCEPTED, StepKind.TAKEN)


def changes_of(course: Known, since: Since) -> tuple[Change, ...]:
    """Every step and every event in words, oldest first."""
    found = changes_since(course.facts, since.at, course.policy, written_too=since.is_look)
    told = [(step.at, _change(step, course)) for step in found]
    told += [(each.at, _event(each, course)) for each in events_since(course.facts, since.at)]
    return tuple(change for _, change in sorted(told, key=lambda pair: pair[0]))


def changed_part(course: Known, chosen: Since, look: Since | None) -> ChangedPart:
    """What changed since the chosen moment, with the way to the other one."""
    base = f"/courses/{course.facts.course_id}"
    ways = [NavLink("Since you last had it", f"{base}?since={LOOK}#changed", chosen.is_look)]
    shift = NavLink("Since the shift began", f"{base}?since={SHIFT}#changed", not chosen.is_look)
    return ChangedPart(
        note=f"{chosen.words}; steps within noise left out",
        changes=changes_of(course, chosen),
        empty_words=NOTHING,
        ways=(*ways, shift) if look is not None else (),
    )


def _change(step: Step, course: Known) -> Change:
    before = step.before
    return Change(
        what=what_changed(step.key, course.words),
        before="" if before is None else value_words(step.key, before, course.words),
        after=value_words(step.key, step.after, course.words),
        when=when_in(step.at, course.now, course.clock),
        author=step.author,
        why=step.why,
        first_seen="" if before is not None else _first_seen(step, course),
        corrected=_corrected(step, course),
    )


def _event(happened: Happened, course: Known) -> Change:
    return Change(
        what="Event",
        before="",
        after=happened.words,
        when=when_in(happened.at, course.now, course.clock),
        author=happened.author,
        is_event=True,
    )


def _first_seen(step: Step, course: Known) -> str:
    return f"first seen {clock_time(step.at, course.now, course.clock)}"


def _corrected(step: Step, course: Known) -> str:
    if not step.corrected:
        return ""
    was = "nothing"
    if step.corrected_from is not None:
        was = value_words(step.key, step.corrected_from, course.words)
    at = step.corrected_at
    when = f" at {clock_time(at, course.now, course.clock)}" if at else ""
    return f"corrected from {was}{when}"
