"""What striking or correcting an event would leave standing, and what stands against it.

An event of a tube is told by more rows than its own: the airway, what is breathed then, tasks. They
are struck with it. Whatever somebody else charted on it since is theirs, and has to go first.
"""

from collections.abc import Iterable, Iterator
from datetime import datetime

from msgspec import Struct
from msgspec.structs import replace

from app.charting.airways import PLACED, REMOVED, has_tube
from app.charting.episodes import SCREEN, TRIAL, overlap_refused, screen_before
from app.charting.event_facts import Event
from app.charting.events import EVENT_KINDS
from app.charting.facts import Airway, Assessment, CourseFacts, Kind
from app.charting.liberation import DECANNULATION, EXTUBATION, REINTUBATION, UNPLANNED
from app.charting.mode_families import family_of
from app.charting.off_ventilator import OFF

OUT = frozenset({EXTUBATION, DECANNULATION, UNPLANNED})
OF_A_TUBE = OUT | {REINTUBATION}
"""Kinds whose moment is the airway's too: they are struck and recorded anew, never moved."""

SUPPORT_AFTER = "After: "
"""What the row of what is breathed then begins its reason with, where it was told later."""


class WrittenAlong(Struct, frozen=True):
    """What the same event wrote beside its own row: airways, and rows of the chart."""

    airways: tuple[Airway, ...] = ()
    rows: tuple[Assessment, ...] = ()


def written_along(facts: CourseFacts, event: Event) -> WrittenAlong:
    """What is struck with an event of a tube; nothing for any other."""
    if event.kind not in OF_A_TUBE:
        return WrittenAlong()
    moved = tuple(_moved(facts, event))
    rows = (row for row in facts.standing if _says(row, event))
    return WrittenAlong(moved, tuple(rows))


def _moved(facts: CourseFacts, event: Event) -> Iterator[Airway]:
    """The removal or the placing itself; after a removal what was put on for breathing then."""
    wanted = PLACED if event.kind == REINTUBATION else REMOVED
    own = [a for a in facts.airways if a.act == wanted and a.observed_at == event.observed_at]
    yield from own
    if own and event.kind in OUT:
        for airway in facts.airways:
            later = airway.observed_at > event.observed_at
            if airway not in own and (later or airway.observed_at == event.observed_at):
                if has_tube(airway):
                    return
                yield airway


def _says(row: Assessment, event: Event) -> bool:
    reason = row.readings.get("change_reason")
    if row.kind is not Kind.EVENT or reason is None or row.observed_at < event.observed_at:
        return False
    label = EVENT_KINDS[event.kind].label
    if reason.word == f"{SUPPORT_AFTER}{label.lower()}":
        return True
    return row.observed_at == event.observed_at and reason.word.startswith(label)


def strike_refused(facts: CourseFacts, event: Event) -> Iterator[str]:
    """Why an event cannot be struck now, in the order in which it has to be put right."""
    if event.end_version_id:
        yield "Its end is charted and stands: strike the end first."
    if event.kind == SCREEN:
        yield from _without_screen(facts, tuple(e for e in facts.events if e.id != event.id))
    if event.kind in OUT:
        yield from _out_refused(facts, event)
    if event.kind == REINTUBATION:
        yield from _in_refused(facts, event)


def _without_screen(facts: CourseFacts, left: Iterable[Event]) -> Iterator[str]:
    known = tuple(left)
    for trial in facts.events:
        had = trial.kind == TRIAL and screen_before(facts.events, trial.observed_at) is not None
        if had and screen_before(known, trial.observed_at) is None:
            yield (
                "A breathing trial rests on this screen: no other was made in the 24 h before it."
                " Strike the trial first, or chart the screen that was made."
            )
            return


def _out_refused(facts: CourseFacts, event: Event) -> Iterator[str]:
    along = written_along(facts, event)
    if not along.airways:
        return
    if any(has_tube(a) and a.observed_at >= event.observed_at for a in facts.airways):
        yield "A tube was placed after it: strike the re-intubation first."
    yield from _checks_refuse(facts, event, along.rows, invasive=False)


def _in_refused(facts: CourseFacts, event: Event) -> Iterator[str]:
    along = written_along(facts, event)
    if not along.airways:
        return
    if any(a not in along.airways and a.observed_at >= event.observed_at for a in facts.airways):
        yield "Something later is charted of this tube: it stands on the re-intubation."
    yield from _checks_refuse(facts, event, along.rows, invasive=True)


def _checks_refuse(
    facts: CourseFacts, event: Event, along: tuple[Assessment, ...], *, invasive: bool
) -> Iterator[str]:
    """Checks of a way to breathe that would not be possible without the event."""
    found = [
        row
        for row in facts.standing
        if row.mode_family
        and row not in along
        and row.observed_at >= event.observed_at
        and family_of(row.mode_family).invasive is invasive
        and (invasive or row.mode_family not in ("o2_mask", "standby"))
    ]
    if found:
        how = "through the tube" if invasive else "without a tube"
        many = f"{len(found)} checks" if len(found) > 1 else "A check"
        yield f"{many} after it charted {how}: strike what does not hold first."


def end_strike_refused(facts: CourseFacts, event: Event) -> Iterator[str]:
    """Why the end of a state cannot be struck, so that it would go on."""
    kind, others = EVENT_KINDS[event.kind], _others(facts, event)
    if any(overlap_refused(others, kind, event.observed_at, None)):
        yield (
            f"“{kind.label}” is charted again later, and this one would go on into it. Strike that"
            " one first, or correct the time of this end."
        )
    moved = [a for a in facts.airways if a.observed_at == event.ended_at and not has_tube(a)]
    if event.kind == OFF and moved:
        yield "It ended because the tube came out: strike that, and this end goes with it."


def correction_refused(
    facts: CourseFacts, event: Event, at: datetime, ended_at: datetime | None
) -> Iterator[str]:
    """Why an event cannot have been at this time instead, or have ended at that one."""
    kind, moved = EVENT_KINDS[event.kind], at != event.observed_at
    if event.kind in OF_A_TUBE and moved:
        yield (
            "The airway and what is breathed changed at this time too: strike it and record it"
            " anew with its time."
        )
    if kind.lasts:
        yield from overlap_refused(_others(facts, event), kind, at, ended_at)
    for said in event.said:
        if moved and said.observed_at != event.observed_at and said.observed_at < at:
            yield "Something was said of it before that time: it cannot have begun later."
            break
    if event.kind == SCREEN and moved:
        left = (replace(e, observed_at=at) if e.id == event.id else e for e in facts.events)
        yield from _without_screen(facts, sorted(left, key=lambda e: e.observed_at))
    if event.kind == TRIAL and moved and screen_before(facts.events, at) is None:
        yield "No screen is charted in the 24 h before that time."


def _others(facts: CourseFacts, event: Event) -> tuple[Event, ...]:
    return tuple(each for each in facts.events if each.id != event.id)
