"""The told history at any hour of a day: in order, by the right people, up to now."""

from datetime import UTC, datetime, timedelta

import pytest

from app.charting.facts import Kind
from app.rules.due import next_check
from app.rules.policy import starting_policy
from seed_demo.entries import Charted, Noted
from seed_demo.history import Line, history
from seed_demo.shift import CLOCK, Span
from seed_demo.stories import STORIES

ROUNDS = starting_policy().rounds
MIDNIGHT = datetime(2026, 3, 5, 5, 0, tzinfo=UTC)
HOURS = [MIDNIGHT + timedelta(hours=hour, minutes=7 * hour % 60) for hour in range(0, 24, 2)]
AUTUMN = datetime(2026, 11, 1, 13, 20, tzinfo=UTC)
SPRING = datetime(2026, 3, 8, 9, 40, tzinfo=UTC)
TAKEN = [story.bed for story in STORIES if story.bedside is not None]


def told(now: datetime, seed: int = 12) -> list[Line]:
    return history(Span(now, ROUNDS), seed)


def last_full(lines: list[Line], bed: str) -> datetime:
    return max(
        line.entry.check.observed_at
        for line in lines
        if line.bed == bed
        and isinstance(line.entry, Charted)
        and line.entry.check.kind is Kind.FULL
    )


def overdue(lines: list[Line], now: datetime) -> list[str]:
    return [
        bed
        for bed in TAKEN
        if next_check(last_full(lines, bed), ROUNDS, CLOCK).state(now) == "overdue"
    ]


def test_the_same_seed_and_moment_tell_the_same_history():
    assert told(HOURS[3]) == told(HOURS[3])


def test_another_seed_tells_another():
    assert told(HOURS[3]) != told(HOURS[3], seed=13)


@pytest.mark.parametrize("now", [*HOURS, AUTUMN, SPRING], ids=str)
def test_at_any_hour_one_bed_is_overdue_and_no_other(now):
    assert overdue(told(now), now) == ["L8"]


@pytest.mark.parametrize("now", [*HOURS, AUTUMN, SPRING], ids=str)
def test_everything_is_written_after_it_was_seen_in_order_and_before_now(now):
    lines = told(now)
    times = [line.entry.recorded_at for line in lines]
    assert times == sorted(times)
    assert times[-1] <= now
    checks = [line.entry for line in lines if isinstance(line.entry, Charted)]
    assert all(
        timedelta(minutes=2) <= entry.recorded_at - entry.check.observed_at for entry in checks
    )


@pytest.mark.parametrize("now", HOURS, ids=str)
def test_two_shifts_write_in_their_own_hours(now):
    wrong = [
        line
        for line in told(now)
        if isinstance(line.entry, Charted)
        and (line.entry.author == "birch")
        is (7 <= CLOCK.local(line.entry.check.observed_at).hour < 19)
    ]
    assert wrong == []


@pytest.mark.parametrize("now", HOURS, ids=str)
def test_the_newest_notes_are_at_most_a_shift_old(now):
    written = [line.entry for line in told(now) if isinstance(line.entry, Noted)]
    newest = max(note.recorded_at for note in written)
    assert now - newest < timedelta(hours=12)


def test_each_bed_in_use_for_three_days_has_three_days_of_rounds():
    checks = [
        line.entry.check
        for line in told(HOURS[7])
        if line.bed == "L1" and isinstance(line.entry, Charted)
    ]
    assert sum(check.kind is Kind.FULL for check in checks) >= 18
    assert sum(check.kind is Kind.GAS for check in checks) == 3


def test_one_night_check_was_written_down_two_hours_late():
    late = [
        line.bed
        for line in told(HOURS[7])
        if isinstance(line.entry, Charted)
        and line.entry.recorded_at - line.entry.check.observed_at > timedelta(hours=2)
    ]
    assert late == ["L4"]


def swings(lines: list[Line], bed: str) -> list[int]:
    """Plateau less total PEEP, cmH2O, of each check at a bed that has both."""
    typed = [
        line.entry.check.typed
        for line in lines
        if line.bed == bed and isinstance(line.entry, Charted)
    ]
    held = [seen for seen in typed if {"plateau_pressure_obs", "peep_total"} <= seen.keys()]
    return [int(seen["plateau_pressure_obs"]) - int(seen["peep_total"]) for seen in held]


@pytest.mark.parametrize("now", HOURS, ids=str)
def test_at_any_hour_the_stiff_lung_is_over_its_limit_and_the_falling_one_is_not(now):
    lines = told(now)
    assert min(swings(lines, "L2")[-3:]) > 15
    assert max(swings(lines, "L4")) <= 15


@pytest.mark.parametrize("now", HOURS, ids=str)
def test_at_any_hour_air_is_trapped_in_the_third_bed_and_hardly_any_in_the_first(now):
    totals = {
        bed: [
            int(line.entry.check.typed["peep_total"])
            for line in told(now)
            if line.bed == bed
            and isinstance(line.entry, Charted)
            and "peep_total" in line.entry.check.typed
        ]
        for bed in ("L1", "L3")
    }
    assert min(totals["L3"][-2:]) >= 5 + 5
    assert max(totals["L1"]) <= 6 + 2
