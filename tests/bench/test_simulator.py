"""The simulated unit: the same seed tells the same course, and an event does what it says."""

from itertools import pairwise

import pytest

from tests.bench.simulator.course import DAYS, simulate
from tests.bench.simulator.events import EVENTS, NOTHING
from tests.bench.watch_judge import Job, judge

BY_NAME = {event.name: place for place, event in enumerate(EVENTS)}


def test_a_seed_tells_one_course():
    assert simulate(7, 1.0) == simulate(7, 1.0)
    assert simulate(7, 1.0) != simulate(8, 1.0)


def test_about_eight_rows_a_day_in_order():
    rows = simulate(7, 1.0).rows
    assert all(before < after for (before, _), (after, _) in pairwise(rows))
    assert 6 * DAYS <= len(rows) <= 10 * DAYS


@pytest.mark.parametrize("event", EVENTS, ids=lambda event: event.name)
def test_an_event_grows_from_its_onset_and_stays(event):
    early, later = event.push(0.0), event.push(100.0)
    assert later != NOTHING
    assert event.push(60.0) == later
    assert later.compliance <= early.compliance
    assert later.resistance >= early.resistance


def test_a_leak_takes_volume_away():
    event = EVENTS[BY_NAME["cuff leak over 12 h"]]
    course = simulate(11, 0.7, event)
    assert course.onset is not None
    late = [row for at, row in course.rows if (at - course.onset).total_seconds() > 14 * 3600]
    shares = [int(row["tidal_volume_obs"][:3]) / int(row["tidal_volume_set"][:3]) for row in late]
    assert sorted(shares)[len(shares) // 2] == pytest.approx(0.70, abs=0.05)


def test_a_judged_course_counts_its_find():
    found = judge(Job(110_003, 0.7, BY_NAME["mucus plug"]))
    assert found.delay[0] is not None
    assert found.delay[0] > 0
    assert judge(Job(110_003, 0.7, -1)).delay == (None, None, None)
