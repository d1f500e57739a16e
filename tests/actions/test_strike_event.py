"""An event struck or corrected: readable, counting for nothing, and what rests on it follows."""

from datetime import datetime, timedelta

import pytest

from app.actions.correct_event import EventCorrection, correct_event
from app.actions.end_event import end_event
from app.actions.give_reason import ReasonRefused
from app.actions.quiet_view import Quiet, begin_quiet
from app.actions.record_airway import NewAirway, record_airway
from app.actions.record_event import EventRefused, NewEvent, record_event
from app.actions.record_tube_out import TubeOut, record_tube_out
from app.actions.remove_tube import Removal, remove_tube
from app.actions.strike_event import strike_event, strike_event_end
from app.actions.tell_of_tube_out import ToldOfTubeOut, tell_of_tube_out
from app.charting.airways import PLACED, has_tube
from app.charting.event_facts import Event
from app.record.courses import course_facts
from app.record.errors import Conflict
from app.record.ids import last_by
from app.rules.muted import muted_now
from tests.actions.scene import Shift

WHY = "wrong patient"
SCREEN = {"screen_not_done": "night"}
TRIAL = {"trial_kind": "t_piece"}
OUT = {"breathes_now": "high_flow", "cuff_leak_not_done": "no risk"}


def do(shift: Shift, act, *told, by: str = "ash", **more):
    """One act some minutes after the last; returns what it returns."""
    shift.clock.forward(minutes=5)
    with shift.writing(by) as writing:
        return act(writing, shift.ward.courses["L3"], *told, **more)


def begin(shift: Shift, kind: str, **details: str) -> str:
    return do(shift, record_event, NewEvent(kind, shift.clock.now, details=details))


def end(shift: Shift, kind: str, **details: str) -> str:
    return do(shift, end_event, NewEvent(kind, shift.clock.now, details=details))


def only(shift: Shift, kind: str) -> Event:
    (event,) = [event for event in shift.facts().events if event.kind == kind]
    return event


def test_a_struck_turn_counts_for_nothing_and_stays_readable(shift: Shift) -> None:
    key = begin(shift, "prone", prone_head_side="left")
    assert "prone" in shift.summary().lasting
    do(shift, strike_event, key, WHY, by="birch")
    facts = shift.facts()
    (struck,) = facts.struck_events
    assert (struck.words, struck.author) == ("Turned prone: head left", "Ash")
    assert (struck.struck, struck.struck_by, struck.struck_at) == (WHY, "Birch", shift.clock.now)
    assert (facts.events, shift.summary().lasting) == ((), {})
    assert [task.rule for task in facts.tasks if task.is_open] == []
    assert shift.differences() == []


def test_a_turn_struck_by_two_is_struck_once(shift: Shift) -> None:
    key = begin(shift, "prone")
    do(shift, strike_event, key, WHY)
    with pytest.raises(Conflict):
        do(shift, strike_event, key, WHY)


def test_what_was_known_before_the_strike_stays_so(shift: Shift) -> None:
    key = begin(shift, "prone")
    shift.clock.forward(minutes=1)
    then = shift.clock.now
    before = shift.facts()
    do(shift, strike_event, key, WHY)
    with shift.database.reading() as session:
        course = shift.ward.courses["L3"]
        assert course_facts(session, course, until=last_by(then)) == before


@pytest.mark.parametrize("why", ["", "  x "])
def test_a_strike_without_a_reason_is_refused(shift: Shift, why: str) -> None:
    key = begin(shift, "suction")
    with pytest.raises(ReasonRefused):
        do(shift, strike_event, key, why)


def test_a_begin_whose_end_stands_is_struck_after_its_end(shift: Shift) -> None:
    key = begin(shift, "away")
    end(shift, "away")
    with pytest.raises(EventRefused, match="strike the end first"):
        do(shift, strike_event, key, WHY)
    do(shift, strike_event_end, key, "came back later")
    (gone,) = only(shift, "away").put_right
    assert (gone.of_end, gone.struck, gone.why) == (True, True, "came back later")
    assert "away" in shift.summary().lasting
    do(shift, strike_event, key, WHY)
    assert shift.summary().lasting == {}


def test_an_end_is_charted_anew_after_it_was_struck(shift: Shift) -> None:
    key = begin(shift, "standby")
    end(shift, "standby")
    do(shift, strike_event_end, key, "was another bed")
    end(shift, "standby")
    assert only(shift, "standby").ended_at == shift.clock.now - timedelta(minutes=5)
    assert shift.differences() == []


def test_an_end_with_the_next_session_behind_it_is_not_struck(shift: Shift) -> None:
    key = begin(shift, "prone")
    end(shift, "prone")
    begin(shift, "prone")
    with pytest.raises(EventRefused, match="charted again later"):
        do(shift, strike_event_end, key, WHY)


def test_an_outcome_goes_with_the_end_that_told_it(shift: Shift) -> None:
    begin(shift, "trial_screen", **SCREEN)
    key = begin(shift, "breathing_trial", **TRIAL)
    end(shift, "breathing_trial", trial_outcome="failed", trial_reason="rate over 35")
    do(shift, strike_event_end, key, WHY)
    end(shift, "breathing_trial", trial_outcome="passed")
    trial = only(shift, "breathing_trial")
    assert (trial.detail("trial_outcome"), trial.detail("trial_reason")) == ("passed", "")
    assert trial.detail("trial_kind") == "t_piece"


def test_a_screen_on_which_a_trial_rests_is_not_struck(shift: Shift) -> None:
    screen = begin(shift, "trial_screen", **SCREEN)
    trial = begin(shift, "breathing_trial", **TRIAL)
    with pytest.raises(EventRefused, match="Strike the trial first"):
        do(shift, strike_event, screen, WHY)
    do(shift, strike_event, trial, WHY)
    do(shift, strike_event, screen, WHY)
    assert shift.facts().events == ()


def test_a_struck_quiet_view_mutes_nothing(shift: Shift) -> None:
    key = do(shift, begin_quiet, Quiet(shift.clock.now, "Dr Oak"))
    assert muted_now(shift.facts()) is not None
    do(shift, strike_event, key, WHY)
    assert muted_now(shift.facts()) is None


def correct(shift: Shift, key: str, at: datetime, words: str = "", *, of_end: bool = False) -> None:
    to = EventCorrection(key, at, words, "read the wrong clock", of_end=of_end)
    do(shift, correct_event, to, by="birch")


def test_a_corrected_time_moves_what_was_said_with_it(shift: Shift) -> None:
    key = begin(shift, "prone", prone_head_side="left")
    was = only(shift, "prone").observed_at
    correct(shift, key, was - timedelta(hours=1), "two nurses")
    event = only(shift, "prone")
    assert (event.observed_at, event.words) == (
        was - timedelta(hours=1),
        "Turned prone: head left; two nurses",
    )
    assert [said.observed_at for said in event.said] == [event.observed_at]
    (put,) = event.put_right
    assert (put.at, put.words, put.by) == (was, "Turned prone: head left", "Birch")
    assert (event.author, shift.differences()) == ("Birch", [])


@pytest.mark.parametrize(
    ("hours", "of_end", "why"),
    [(1, False, "still to come"), (-72, False, "before support"), (0, False, "stands already")],
)
def test_a_correction_to_what_cannot_be_is_refused(shift: Shift, hours, of_end, why) -> None:
    key = begin(shift, "prone")
    at = only(shift, "prone").observed_at + timedelta(hours=hours)
    with pytest.raises(EventRefused, match=why):
        correct(shift, key, at, of_end=of_end)


def test_an_end_is_not_moved_before_the_begin_nor_into_the_next(shift: Shift) -> None:
    key = begin(shift, "prone")
    end(shift, "prone")
    begin(shift, "prone")
    begun = next(event for event in shift.facts().events if event.id == key).observed_at
    with pytest.raises(EventRefused, match="before the beginning"):
        correct(shift, key, begun, of_end=True)
    with pytest.raises(EventRefused, match="charted again later"):
        correct(shift, key, shift.clock.now, of_end=True)
    correct(shift, key, begun + timedelta(minutes=2), of_end=True)
    assert shift.differences() == []


def test_a_struck_extubation_puts_the_tube_back_with_all_that_it_wrote(shift: Shift) -> None:
    shift.chart("ash")
    begin(shift, "trial_screen", **SCREEN)
    begin(shift, "breathing_trial", **TRIAL)
    before = shift.summary()
    key = do(shift, remove_tube, Removal("extubation", shift.clock.now, OUT))
    assert only(shift, "breathing_trial").ended_at is not None
    assert not has_tube(shift.facts().airways[-1])
    do(shift, strike_event, key, WHY)
    facts = shift.facts()
    assert has_tube(facts.airways[-1])
    assert only(shift, "breathing_trial").ended_at is None
    assert [row.struck for row in facts.assessments] == ["", WHY]
    after = shift.summary()
    assert (after.family, after.airway) == (before.family, before.airway)
    assert shift.differences() == []


def test_a_struck_tube_out_takes_its_three_tasks_back_and_what_was_told_of_it(shift: Shift) -> None:
    shift.chart("ash")
    key = do(shift, record_tube_out, TubeOut(shift.clock.now))
    do(shift, tell_of_tube_out, ToldOfTubeOut(shift.clock.now, breathes_now="oxygen_mask"))
    do(shift, strike_event, key, WHY)
    facts = shift.facts()
    assert [task.rule for task in facts.tasks if task.is_open] == []
    assert [bool(row.struck) for row in facts.assessments] == [False, True, True]
    assert has_tube(facts.airways[-1])
    assert len(facts.struck_airways) == 2
    assert shift.differences() == []


def test_a_removal_with_a_tube_behind_it_is_struck_after_the_reintubation(shift: Shift) -> None:
    key = do(shift, record_tube_out, TubeOut(shift.clock.now))
    placed = NewAirway("ett_oral", act=PLACED, observed_at=shift.clock.now + timedelta(minutes=5))
    do(shift, record_airway, placed)
    with pytest.raises(EventRefused, match="strike the re-intubation first"):
        do(shift, strike_event, key, WHY)
    again = only(shift, "reintubation")
    do(shift, strike_event, again.id, WHY)
    assert {task.rule for task in shift.facts().tasks if task.is_open} == {
        "tube_out_breathes",
        "tube_out_how",
        "tube_out_again",
    }
    do(shift, strike_event, key, WHY)
    assert has_tube(shift.facts().airways[-1])
    assert shift.differences() == []


def test_checks_through_a_tube_hold_the_reintubation(shift: Shift) -> None:
    do(shift, record_tube_out, TubeOut(shift.clock.now))
    do(
        shift,
        record_airway,
        NewAirway("ett_oral", act=PLACED, observed_at=shift.clock.now + timedelta(minutes=5)),
    )
    shift.clock.forward(minutes=5)
    shift.chart("ash")
    with pytest.raises(EventRefused, match="A check after it charted through the tube"):
        do(shift, strike_event, only(shift, "reintubation").id, WHY)
