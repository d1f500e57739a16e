"""What is counted at a person's beds, and when two sums lie far enough apart for a word."""

import pytest
from msgspec.structs import replace

from app.rules.away import Away
from app.rules.bed_summary import BedSummary, summarise
from app.rules.load import WORTH_A_WORD, Load, load_of, uneven
from app.rules.unit_clock import UnitClock
from tests.charting.rows import course, later
from tests.rules.watch.scenes import POLICY, check, with_band


def summary(plateau: str) -> BedSummary:
    rows = [
        check(3 * n, plateau_pressure_obs=plateau, peak_inspiratory_pressure_obs="40")
        for n in range(2)
    ]
    return summarise(with_band(course(*rows)), POLICY, UnitClock("UTC"))


def test_beds_due_items_flags_and_events_are_counted_apart():
    quiet, stiff = summary("22"), summary("34")
    now = later(hours=3)
    load = load_of([(quiet, 0), (stiff, 3)], now)
    assert (load.beds, load.flagged, load.events) == (2, 1, 3)
    due = [item for each in (quiet, stiff) for item in each.due_items]
    assert load.due == sum(item.due_at <= later(hours=7) for item in due) > 0


def test_nothing_is_due_at_a_bed_that_somebody_is_away_from():
    away = replace(summary("22"), away=Away("away", later(hours=2)))
    assert load_of([(away, 0)], later(hours=3)).due == 0


def test_nobody_at_all_is_no_load():
    assert load_of([], later()) == Load()
    assert Load().weight == 0


@pytest.mark.parametrize(
    ("apart", "told"), [(WORTH_A_WORD - 1, False), (WORTH_A_WORD, True), (WORTH_A_WORD + 1, True)]
)
def test_a_difference_is_remarked_on_from_its_threshold_on(apart: int, told: bool):
    loads = {"Ash": Load(events=1), "Birch": Load(events=1 + apart)}
    assert uneven(loads) == (("Birch", "Ash") if told else None)


def test_one_person_alone_is_compared_with_nobody():
    assert uneven({"Ash": Load(beds=12)}) is None
