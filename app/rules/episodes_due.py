"""What prone sessions, breathing trials and their screens make due."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import Decimal

from app.charting.episodes import MEMBRANE, PRONE, SCREEN, TRIAL
from app.charting.event_facts import Event
from app.charting.facts import CourseFacts
from app.charting.mode_families import family_of
from app.rules.due_item import DueItem, soon
from app.rules.policy import Policy

SCREEN_GRACE = (timedelta(hours=4), timedelta(hours=12))
"""A screen is the day's, not the hour's (engineering judgement)."""


def episodes_due(facts: CourseFacts, family: str, policy: Policy) -> Iterator[DueItem]:
    """The turn back, the end of a trial, and the next screen where somebody can be screened."""
    for event in facts.events:
        if event.ended_at is None and event.kind == PRONE:
            yield from _turn(event, facts, policy)
        if event.ended_at is None and event.kind == TRIAL:
            yield from _end_of_trial(event)
    yield from _screen(facts, family, policy)


def is_child(facts: CourseFacts, policy: Policy) -> bool:
    """Whether adult numbers say nothing of this patient (decision 1)."""
    return facts.age_y is not None and facts.age_y < policy.adult_age_y


def prone_hours(event: Event, facts: CourseFacts, policy: Policy) -> tuple[Decimal | None, str]:
    """How long a session is meant to last, and who says so: the session, else the unit.

    The unit's number is an adult's: a child's session has none but its own.
    """
    own = event.detail("prone_target_h")
    if own:
        return Decimal(own), "said for this session"
    if is_child(facts, policy):
        return None, ""
    return policy.episodes.prone_h, policy.episodes.prone_source


def prone_until(event: Event, facts: CourseFacts, policy: Policy) -> datetime | None:
    """When the hours that were meant are over; hours of time, whatever the clock on the wall."""
    hours, _ = prone_hours(event, facts, policy)
    return event.observed_at + timedelta(hours=float(hours)) if hours is not None else None


def _turn(event: Event, facts: CourseFacts, policy: Policy) -> Iterator[DueItem]:
    hours, source = prone_hours(event, facts, policy)
    due_at = prone_until(event, facts, policy)
    if due_at is not None:
        late, overdue = due_at + timedelta(hours=1), due_at + timedelta(hours=2)
        what = f"turn back to supine, {hours:f} h of prone"
        yield DueItem("prone", what, due_at, late, overdue, source)


def _end_of_trial(event: Event) -> Iterator[DueItem]:
    minutes = event.detail("trial_minutes")
    if minutes:
        due_at = event.observed_at + timedelta(minutes=float(minutes))
        yield soon("trial", f"end of the breathing trial, {minutes} min", due_at, "as it was begun")


def _screen(facts: CourseFacts, family: str, policy: Policy) -> Iterator[DueItem]:
    """Once in so many hours, from the newest screen or this unit's first look at the machine.

    A patient who comes after days of support elsewhere is not overdue at the door.
    """
    hours = policy.episodes.screen_every_h
    if not hours or not _can_be_screened(facts, family, policy):
        return
    screens = [event.observed_at for event in facts.events if event.kind == SCREEN]
    first = min(row.observed_at for row in facts.standing if row.mode_family)
    since = max(screens, default=first)
    due_at = since + timedelta(hours=float(hours))
    late, overdue = (due_at + grace for grace in SCREEN_GRACE)
    yield DueItem(SCREEN, "screen for a breathing trial", due_at, late, overdue, "once a day")


def _can_be_screened(facts: CourseFacts, family: str, policy: Policy) -> bool:
    """On a ventilator by a tube, an adult, and not in what rules a trial out by itself."""
    known = family_of(family)
    if not (family and known.invasive and known.ventilates) or family == "standby":
        return False
    if is_child(facts, policy):
        return False
    ruled_out = (PRONE, TRIAL, MEMBRANE)
    if any(event.kind in ruled_out and event.ended_at is None for event in facts.events):
        return False
    latest = facts.latest_readings()
    return all(
        code not in latest or latest[code].word != word
        for code, word in (("position", "prone"), ("nmb", "yes"))
    )
