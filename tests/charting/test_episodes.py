"""Sessions of one kind never overlap, in whatever order they are written down."""

from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from app.charting.episodes import offered_acts, overlap_refused, screen_result
from app.charting.event_facts import Event, EventDetail
from app.charting.events import EVENT_KINDS
from app.charting.fields.episodes import SCREEN_ITEMS
from tests.charting.rows import AT, later

PRONE = EVENT_KINDS["prone"]
HOURS = st.integers(0, 12)


def session(begun: int, ended: int | None) -> Event:
    until = None if ended is None else later(hours=ended)
    return Event(f"{begun}-{ended}", "prone", later(hours=begun), until, "", "ash")


@settings(max_examples=60)
@given(st.lists(st.tuples(HOURS, st.none() | HOURS), max_size=8))
def test_no_two_that_are_taken_ever_share_a_minute(told):
    taken: list[Event] = []
    for begun, ended in told:
        new = session(begun, ended)
        if not list(overlap_refused(taken, PRONE, new.observed_at, new.ended_at)):
            taken.append(new)
    half_hours = [AT + timedelta(minutes=30 + 60 * hour) for hour in range(14)]
    for moment in half_hours:
        on = [e for e in taken if e.observed_at <= moment and (e.ended_at or moment) >= moment]
        assert len(on) <= 1


def test_one_may_begin_at_the_minute_at_which_another_ended():
    assert not list(overlap_refused([session(1, 2)], PRONE, later(hours=2), None))
    assert not list(overlap_refused([session(2, 3)], PRONE, later(hours=1), later(hours=2)))


def test_another_kind_may_go_on_meanwhile():
    away = Event("a", "away", AT, None, "", "ash")
    assert not list(overlap_refused([away], PRONE, AT, None))


def test_the_end_of_what_goes_on_is_offered_first():
    acts = [act.code for act in offered_acts([session(-1, None)], AT)]
    assert acts[:2] == ["prone.end", "prone.add"]
    assert "prone.begin" not in acts
    screened = Event("s", "trial_screen", later(hours=-1), None, "", "ash")
    assert "trial_screen.once" in [act.code for act in offered_acts([screened], AT)]


def test_a_screen_is_passed_only_with_every_item():
    answers = dict.fromkeys(SCREEN_ITEMS, "yes")
    screen = Event("s", "trial_screen", AT, None, "", "ash", (EventDetail(AT, "ash", answers),))
    assert screen_result(screen) == "passed"
    later_word = EventDetail(later(hours=1), "birch", {"screen_oxygen": "no"})
    again = Event("s", "trial_screen", AT, None, "", "ash", (*screen.said, later_word))
    assert screen_result(again) == "not passed: oxygen"
