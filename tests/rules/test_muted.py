"""A muted course raises nothing and nothing is due in it; what it says stands in the summary."""

from dataclasses import replace

from app.charting.facts import CourseEnd, Event
from app.rules.bed_summary import from_text, summarise, to_text
from app.rules.muted import Muted, muted_now
from app.rules.unit_clock import UnitClock
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
    assert told.groups == summary(FLAGGED).groups
    assert told.due.due_at >= later(hours=5)


def test_a_closed_course_says_how_it_ended():
    end = CourseEnd(later(hours=4), "died", "pronounced by Dr Oak", "Ash", later(hours=4))
    closed = replace(FLAGGED, ended_at=end.ended_at, end_kind="died", ends=(end,))
    assert muted_now(closed) == Muted("closed", later(hours=4), "Died: pronounced by Dr Oak", "Ash")
    assert summary(closed).groups == ()
