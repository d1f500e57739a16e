"""Hours of prone and of being away are hours that passed: over midnight and both clock changes."""

from datetime import UTC, datetime, timedelta

import pytest

from app.charting.event_facts import Event, EventDetail
from app.pages.due_words import away_words
from app.pages.episode_words import MEMBRANE_INDICES, going_lines, lasted_words
from app.rules.away import Away
from app.rules.episodes_due import prone_until
from app.rules.policy import starting_policy
from app.rules.unit_clock import UnitClock
from tests.charting.rows import course

POLICY = starting_policy()
LARCH = UnitClock("America/New_York")


def moment(wall: str, fold: int = 0) -> datetime:
    """The moment at which the unit's clock shows this, in UTC; `fold` 1 for the second time."""
    moments = LARCH.moments_of(datetime.fromisoformat(wall))
    return moments[fold]


def event(kind: str, at: datetime, ended: datetime | None = None, **said: str) -> Event:
    details = (EventDetail(at, "ash", said),) if said else ()
    return Event(kind, kind, at, ended, kind, "ash", details)


NIGHTS = [
    ("2026-03-09T21:00", "2026-03-10T05:00", "8 h of 16 h; turn due 13:00"),
    ("2026-10-31T21:00", "2026-11-01T05:00", "9 h of 16 h; turn due 12:00 EST"),
    ("2026-03-07T21:00", "2026-03-08T05:00", "7 h of 16 h; turn due 14:00 EDT"),
]


@pytest.mark.parametrize(("begun", "now", "said"), NIGHTS)
def test_hours_in_prone_are_right_over_midnight_and_both_clock_changes(begun, now, said):
    facts = course(events=(event("prone", moment(begun)),))
    (line,) = going_lines(facts, POLICY, LARCH, moment(now))
    assert line.endswith(said)


@pytest.mark.parametrize(
    ("begun", "now", "said"),
    [
        ("2026-03-09T23:30", "2026-03-10T01:29", "Away since 9 Mar 23:30"),
        ("2026-03-09T23:30", "2026-03-10T01:30", "Away since 9 Mar 23:30: 2 h, no word"),
        ("2026-10-31T23:30", "2026-11-01T04:30", "Away since 31 Oct 23:30 EDT: 6 h, no word"),
        ("2026-03-07T23:30", "2026-03-08T04:30", "Away since 7 Mar 23:30 EST: 4 h, no word"),
    ],
)
def test_how_long_somebody_is_away_is_right_on_those_nights(begun, now, said):
    assert away_words(Away("away", moment(begun)), moment(now), LARCH) == said


def test_the_hour_that_comes_twice_is_counted_twice():
    first, second = moment("2026-11-01T01:30"), moment("2026-11-01T01:30", 1)
    assert lasted_words(event("prone", first, second)) == "1 h"


def test_the_turn_is_due_after_the_sessions_own_hours_else_after_the_units():
    at = datetime(2026, 11, 1, 1, 0, tzinfo=UTC)
    assert prone_until(event("prone", at), course(), POLICY) == at + timedelta(hours=16)
    own = event("prone", at, prone_target_h="18")
    assert prone_until(own, course(), POLICY) == at + timedelta(hours=18)


def test_the_units_hours_are_an_adults():
    at = datetime(2026, 3, 9, 12, 0, tzinfo=UTC)
    child = course(events=(event("prone", at),), age_y=9)
    (line,) = going_lines(child, POLICY, LARCH, at + timedelta(hours=3))
    assert line == "Prone since 08:00, 3 h; no hours said"


def test_what_loses_its_meaning_on_a_membrane_is_named():
    assert {"P/F", "S/F", "OI"} <= set(MEMBRANE_INDICES)
