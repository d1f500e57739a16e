"""Events: at one moment or until their end, never twice, never in the future; the board knows."""

from datetime import timedelta

import pytest

from app.actions.end_event import end_event
from app.actions.record_event import EventRefused, NewEvent, record_event
from app.charting.in_force import going_on
from app.record.courses import course_facts
from app.record.database import Database
from app.record.errors import KeyReused
from tests.clock import Clock
from tests.ward import Ward, open_ward


@pytest.fixture
def ward(database: Database, clock: Clock) -> Ward:
    return open_ward(database, clock)


@pytest.fixture
def chart(database: Database, clock: Clock, ward: Ward):
    """Chart an event of L3 some minutes ago; `act` is what charts it."""

    def chart(kind: str, minutes_ago: float = 0, words: str = "", *, act=record_event, key=""):
        event = NewEvent(kind, clock.now - timedelta(minutes=minutes_ago), words)
        with database.writing(clock, ward.staff["ash"]) as writing:
            return act(writing, ward.courses["L3"], event, save_key=key)

    return chart


@pytest.fixture
def events(database: Database, ward: Ward):
    def events():
        with database.reading() as session:
            return course_facts(session, ward.courses["L3"]).events

    return events


def test_an_event_stands_with_its_kind_and_a_persons_words(chart, events) -> None:
    chart("suction", 5, "Thick plug")
    (event,) = events()
    assert (event.kind, event.words) == ("suction", "Suction: Thick plug")


def test_a_transport_goes_on_until_its_end_is_charted(chart, events, clock: Clock) -> None:
    chart("away", 50)
    assert going_on(events(), "away", clock.now) is not None
    chart("away", 5, act=end_event)
    assert going_on(events(), "away", clock.now) is None
    assert going_on(events(), "away", clock.now - timedelta(minutes=10)) is not None


def test_what_goes_on_cannot_begin_again(chart) -> None:
    chart("prone", 50)
    with pytest.raises(EventRefused, match="has not ended"):
        chart("prone", 5)


@pytest.mark.parametrize("minutes_ago", [5, 50, 60])
def test_what_is_not_going_on_cannot_end(chart, minutes_ago: int) -> None:
    if minutes_ago >= 50:
        chart("standby", 50)
    with pytest.raises(EventRefused, match="not charted as going on"):
        chart("standby", minutes_ago, act=end_event)


@pytest.mark.parametrize(("ahead", "taken"), [(-2, True), (0, True), (2, True), (3, False)])
def test_a_time_more_than_two_minutes_ahead_is_refused(chart, events, ahead, taken) -> None:
    if taken:
        chart("suction", -ahead)
    else:
        with pytest.raises(EventRefused, match="still to come"):
            chart("suction", -ahead)
    assert len(events()) == taken


@pytest.mark.parametrize(
    ("kind", "words", "why"),
    [
        ("", "", "pick one"),
        ("nonsense", "", "pick one"),
        ("other", "  ", "a few words"),
        ("suction", "x" * 141, "it takes 140"),
    ],
)
def test_an_event_without_a_kind_or_with_too_much_is_refused(chart, kind, words, why) -> None:
    with pytest.raises(EventRefused, match=why):
        chart(kind, words=words)


def test_a_time_before_support_started_is_refused(chart) -> None:
    with pytest.raises(EventRefused, match="before support started"):
        chart("suction", 3 * 24 * 60)


def test_the_same_form_sent_twice_makes_one_event(chart, events) -> None:
    assert chart("suction", 5, key="k") == chart("suction", 5, key="k")
    assert len(events()) == 1
    with pytest.raises(KeyReused):
        chart("bronchoscopy", 5, key="k")
