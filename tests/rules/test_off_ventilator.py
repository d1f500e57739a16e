"""Hours off the ventilator through a tracheostomy: sessions, charted modes, calendar days."""

from datetime import UTC, date, datetime, timedelta

import pytest
from msgspec.structs import replace

from app.charting.airways import REMOVED
from app.charting.event_facts import Event
from app.charting.facts import CourseFacts
from app.charting.off_ventilator import OFF, Span, off_sessions
from app.rules.off_ventilator import time_by_day
from app.rules.unit_clock import UnitClock
from app.rules.ventilator_day import counted
from tests.charting.rows import AT, START, airway, course, later, row

NEW_YORK = UnitClock("America/New_York")
TRACH = airway("trach", depth=None)


def session(begun: datetime, ended: datetime | None) -> Event:
    return Event(f"e@{begun}", OFF, begun, ended, "", "ash")


def facts(*sessions: Event, rows=(), tube=TRACH) -> CourseFacts:
    return replace(course(*rows, tube=tube), events=sessions)


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text).astimezone(UTC)


@pytest.mark.parametrize(
    ("begun", "ended", "hours"),
    [
        ("2026-03-03T08:00-05:00", "2026-03-03T12:30-05:00", {3: 4.5}),
        ("2026-03-03T22:00-05:00", "2026-03-04T01:30-05:00", {3: 2, 4: 1.5}),
        ("2026-03-07T22:00-05:00", "2026-03-09T01:00-04:00", {7: 2, 8: 23, 9: 1}),
        ("2026-10-31T22:00-04:00", "2026-11-02T01:00-05:00", {31: 2, 1: 25, 2: 1}),
        ("2026-03-08T01:30-05:00", "2026-03-08T03:30-04:00", {8: 1}),
    ],
)
def test_hours_are_counted_by_the_units_calendar_day(begun, ended, hours) -> None:
    by_day = time_by_day([Span(moment(begun), moment(ended))], moment(ended), NEW_YORK)
    assert {day.day: spent / timedelta(hours=1) for day, spent in by_day.items()} == hours


def test_a_session_that_goes_on_counts_until_now() -> None:
    by_day = time_by_day([Span(AT, None)], later(hours=2), NEW_YORK)
    assert by_day == {date(2026, 3, 9): timedelta(hours=2)}


def test_a_charted_t_piece_counts_until_the_machine_is_charted_again() -> None:
    rows = (
        row("csv_ps"),
        row("o2_mask", at=later(hours=1)),
        row("o2_mask", at=later(hours=2)),
        row("csv_ps", at=later(hours=3)),
    )
    assert off_sessions(facts(rows=rows)) == (Span(later(hours=1), later(hours=3)),)


def test_where_a_session_and_a_charted_mode_tell_the_same_hours_they_count_once() -> None:
    rows = (row("o2_mask", at=later(hours=1)), row("csv_ps", at=later(hours=3)))
    told = session(AT, later(hours=2))
    assert off_sessions(facts(told, rows=rows)) == (Span(AT, later(hours=3)),)


def test_without_a_tracheostomy_no_hours_count() -> None:
    rows = (row("o2_mask"),)
    assert off_sessions(facts(session(AT, None), rows=rows, tube=airway())) == ()


def test_a_session_ends_with_the_tracheostomy() -> None:
    out = replace(airway("stoma", later(hours=2)), act=REMOVED)
    known = replace(facts(session(AT, None)), airways=(TRACH, out))
    assert off_sessions(known) == (Span(AT, later(hours=2)),)


def test_a_whole_day_off_through_a_tracheostomy_begins_the_ventilator_days_anew() -> None:
    back = moment("2026-03-11T00:00-04:00")
    assert counted(facts(session(AT, back)), 1, NEW_YORK).from_at == back
    earlier = back - timedelta(minutes=1)
    assert counted(facts(session(AT, earlier)), 1, NEW_YORK).from_at == START
