"""Prone sessions, transports, standby and trials in words: how long, of how long, what was said."""

from datetime import datetime, timedelta

from app.charting.episodes import (
    AWAY,
    MEMBRANE,
    NITRIC,
    PRONE,
    SCREEN,
    SCREEN_HOLDS,
    STANDBY,
    TRIAL,
    outcome_words,
    screen_before,
    screen_result,
)
from app.charting.event_facts import Event, EventDetail
from app.charting.events import EVENT_KINDS
from app.charting.facts import CourseFacts
from app.charting.fields.episodes import ASKED_OF_EPISODES
from app.pages.times import clock_time
from app.physiology.catalogue import CATALOGUE
from app.rules.episodes_due import prone_hours, prone_until
from app.rules.muted import muted_now
from app.rules.policy import Policy
from app.rules.unit_clock import UnitClock

MEMBRANE_INDICES = tuple(
    index.short_label
    for index in CATALOGUE.values()
    if any(one.name == "ecmo" for one in index.inputs)
)
"""What says nothing of the lungs while a membrane does their work."""

DANGEROUS = (PRONE, NITRIC, MEMBRANE)
"""What stands on the danger line of a handoff while it goes on."""

NOT_DANGEROUS = (STANDBY, AWAY, TRIAL)
_IN_LINES = (*DANGEROUS, *NOT_DANGEROUS)


def hours_and_minutes(span: timedelta) -> str:
    """ "5 h 20 min", "40 min", "16 h": hours that passed, whatever the clock on the wall did."""
    hours, minutes = divmod(int(span.total_seconds()) // 60, 60)
    parts = (f"{hours} h" if hours else "", f"{minutes} min" if minutes or not hours else "")
    return " ".join(filter(None, parts))


def going_lines(
    facts: CourseFacts,
    policy: Policy,
    clock: UnitClock,
    now: datetime,
    kinds: tuple[str, ...] = _IN_LINES,
) -> tuple[str, ...]:
    """One line for each state of these kinds that goes on, in their order; none after the end."""
    if facts.ended_at is not None:
        return ()
    found = {
        event.kind: event
        for event in facts.events
        if event.ended_at is None and event.observed_at <= now
    }
    return tuple(
        going_words(found[kind], facts, policy, clock, now) for kind in kinds if kind in found
    )


def going_words(
    event: Event, facts: CourseFacts, policy: Policy, clock: UnitClock, now: datetime
) -> str:
    """ "Prone since 21:10, 5 h of 16 h; turn due 13:10"."""
    since = clock_time(event.observed_at, now, clock)
    so_far = hours_and_minutes(now - event.observed_at)
    if event.kind == PRONE:
        return f"Prone since {since}, {so_far}{_of_how_many(event, facts, policy, clock, now)}"
    if event.kind == TRIAL:
        meant = event.detail("trial_minutes")
        of = f" of {meant} min" if meant else ""
        return f"{event.words}, since {since}, {so_far}{of}; {_screened(event, facts, clock, now)}"
    if event.kind == MEMBRANE:
        indices = ", ".join(MEMBRANE_INDICES)
        return f"Extracorporeal support since {since}: {indices} say nothing of the lungs"
    said = {NITRIC: "Inhaled nitric oxide", STANDBY: "On standby or disconnected", AWAY: "Away"}
    return f"{said.get(event.kind, event.words)} since {since}, {so_far}{_said_of(event)}"


def _of_how_many(
    event: Event, facts: CourseFacts, policy: Policy, clock: UnitClock, now: datetime
) -> str:
    if muted_now(facts) is not None:
        return ""
    hours, _ = prone_hours(event, facts, policy)
    due = prone_until(event, facts, policy)
    if due is None:
        return "; no hours said"
    return f" of {hours:f} h; turn due {clock_time(due, now, clock)}"


def _said_of(event: Event) -> str:
    """What the line of a transport or a standby says beside its kind: where to, and how."""
    label = EVENT_KINDS[event.kind].label
    rest = event.words.removeprefix(label).removeprefix(": ")
    return f": {rest}" if rest else ""


def _screened(event: Event, facts: CourseFacts, clock: UnitClock, now: datetime) -> str:
    screen = screen_before(facts.events, event.observed_at)
    if screen is None:
        return "no screen charted before it"
    return f"screen {screen_result(screen)}, {clock_time(screen.observed_at, now, clock)}"


def detail_words(detail: EventDetail, *, without: tuple[str, ...] = ()) -> str:
    """ "Tube mark before 24 cm, tube mark after 24 cm": what was said at one time."""
    known = ((code, detail.values[code]) for code in ASKED_OF_EPISODES if code in detail.values)
    return ", ".join(_one(code, said) for code, said in known if code not in without)


def _one(code: str, said: str) -> str:
    field = ASKED_OF_EPISODES[code]
    value = field.label_of(said).lower() if field.choices else said
    return f"{field.label}: {value} {field.unit}".strip()


def end_words(event: Event, now: datetime, clock: UnitClock) -> str:
    """What stands behind an event's line once it is over: until when, and how it ended."""
    if event.ended_at is None:
        return ""
    told = outcome_words(event)
    return f", until {clock_time(event.ended_at, now, clock)}{f', {told}' if told else ''}"


def weaning_lines(facts: CourseFacts, clock: UnitClock, now: datetime) -> tuple[str, ...]:
    """The newest screen and the newest trial of the last day, for whoever comes next."""
    since = now - SCREEN_HOLDS
    found = [
        event
        for kind in (SCREEN, TRIAL)
        for event in [each for each in facts.events if each.kind == kind][-1:]
        if event.observed_at >= since and (kind == SCREEN or event.ended_at is not None)
    ]
    return tuple(
        f"{event.words}, {clock_time(event.observed_at, now, clock)}{end_words(event, now, clock)}"
        for event in found
    )


def lasted_words(event: Event) -> str:
    """How long it lasted, for one that is over."""
    if event.ended_at is None:
        return ""
    return hours_and_minutes(event.ended_at - event.observed_at)
