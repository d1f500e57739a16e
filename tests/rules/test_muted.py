"""A muted course raises nothing and nothing is due in it; what it says stands in the summary."""

from datetime import timedelta

import pytest
from msgspec.structs import replace

from app.charting.event_facts import Event
from app.charting.facts import CourseEnd
from app.rules.away import counting_on
from app.rules.bed_summary import from_text, summarise, to_text
from app.rules.muted import Muted, muted_now
from app.rules.unit_clock import UnitClock
from app.rules.watch import watch
from tests.charting.rows import course, later
from tests.rules.watch.scenes import POLICY, check

CLOCK = UnitClock("America/New_York")
FLAGGED = course(*(check(hours, plateau_pressure_obs="36") for hours in (0, 1, 2)))
COMFORT = Event("c", "comfort", later(hours=3), None, "ordered by Dr Oak", "Ash")


def summary(facts):
    return summarise(facts, POLICY, CLOCK)


def test_the_scene_raises_a_flag_while_nothing_mutes_it():
    told = summary(FLAGGED)
    assert told.groups
    assert told.statements
    assert told.due_items
    assert told.muted is None


def test_comfort_mutes_limits_flags_and_due_items_while_it_lasts():
    told = summary(replace(FLAGGED, events=(COMFORT,)))
    assert (told.groups, told.once, told.told, told.statements, told.due_items) == ((),) * 5
    assert told.muted == Muted("comfort", later(hours=3), "ordered by Dr Oak", "Ash")
    assert from_text(to_text(told)) == told


def test_its_end_brings_every_flag_back():
    ended = replace(COMFORT, ended_at=later(hours=5))
    told = summary(replace(FLAGGED, events=(ended,)))
    was = summary(FLAGGED)
    assert [group.rules for group in told.groups] == [group.rules for group in was.groups]
    assert told.groups[0].since - was.groups[0].since == timedelta(hours=2)
    assert told.due.due_at >= later(hours=5)


def test_a_closed_course_says_how_it_ended():
    end = CourseEnd(later(hours=4), "died", "pronounced by Dr Oak", "Ash", later(hours=4))
    closed = replace(FLAGGED, ended_at=end.ended_at, end_kind="died", ends=(end,))
    assert muted_now(closed) == Muted("closed", later(hours=4), "Died: pronounced by Dr Oak", "Ash")
    assert summary(closed).groups == ()


@pytest.mark.parametrize(
    ("pauses", "hours"),
    [
        ((), 12),
        (((-3, -1),), 12),
        (((-1, 1),), 13),
        (((2, 5),), 15),
        (((2, 5), (14, 16)), 17),
        (((2, 5), (4, 6)), 16),
        (((12, 14),), 12),
        (((3, None),), None),
    ],
)
def test_hours_of_a_pause_do_not_count(pauses, hours):
    spans = [(later(hours=a), None if b is None else later(hours=b)) for a, b in pauses]
    expected = None if hours is None else later(hours=hours)
    assert counting_on(later(), 12, spans) == expected


@pytest.mark.parametrize(("quiet_h", "raised"), [(0, True), (6, False)])
def test_a_plateau_is_not_owed_for_the_hours_of_a_quiet_view(quiet_h, raised):
    hours = POLICY.rules["plateau_overdue"]["hours"]
    quiet = replace(COMFORT, observed_at=later(hours=2), ended_at=later(hours=2 + quiet_h))
    facts = replace(course(check(0)), events=(quiet,) if quiet_h else ())
    seen = watch(facts, POLICY, later(hours=hours + 1))
    assert ("plateau_overdue" in [flag.rule for flag in seen.flags]) is raised
    owed = [item for item in summary(facts).due_items if item.kind == "plateau"]
    assert owed[0].overdue_at == later(hours=hours + quiet_h)
