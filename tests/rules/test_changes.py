"""What changed this shift: every step with its time, noise left out, and nothing from nought."""

from datetime import timedelta
from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.event_facts import Event
from app.charting.facts import Assessment, CareLimits
from app.rules.changes import (
    AIRWAY,
    HEIGHT,
    LIMITS,
    MODE_FAMILY,
    changes_since,
    events_since,
)
from app.rules.policy import starting_policy
from tests.charting.rows import AT, airway, body, course, later, row

POLICY = starting_policy()
BEFORE = AT - timedelta(hours=1)


def steps(*rows, since=AT, **more):
    return [
        (step.key, step.before, step.after)
        for step in changes_since(course(*rows, **more), since, POLICY)
    ]


@pytest.mark.parametrize(("to", "listed"), [("44", False), ("45", False), ("46", True)])
def test_oxygen_changes_by_more_than_the_noise_band_of_five(to: str, listed: bool) -> None:
    found = steps(row(fio2_set="40"), row(at=later(hours=4), fio2_set=to))
    assert found == ([("fio2_set", Decimal(40), Decimal(to))] if listed else [])


def test_small_steps_add_up_to_one_that_is_listed() -> None:
    rows = [row(at=later(hours=at), fio2_set=str(40 + 4 * at)) for at in range(3)]
    assert steps(*rows) == [("fio2_set", Decimal(40), Decimal(48))]


def test_every_step_is_listed_and_not_just_the_ends() -> None:
    rows = [row(at=later(hours=at), peep_set=peep) for at, peep in enumerate(("8", "12", "8"))]
    assert [after for _, _, after in steps(*rows)] == [Decimal(12), Decimal(8)]


def test_what_had_no_value_before_is_first_seen() -> None:
    assert steps(row(peep_set="8"), since=BEFORE) == [
        ("peep_set", None, Decimal(8)),
        (MODE_FAMILY, None, "ac_vc"),
    ]


def test_a_step_at_the_start_of_the_shift_belongs_to_the_shift_before() -> None:
    assert steps(row(peep_set="8"), since=AT) == []


def test_a_change_of_mode_is_always_listed() -> None:
    found = steps(row("ac_vc"), row("csv_ps", at=later(hours=2)))
    assert found == [(MODE_FAMILY, "ac_vc", "csv_ps")]


def test_another_ventilator_is_always_listed() -> None:
    found = steps(row(device_id="V-7"), row(at=later(hours=2), device_id="V-9"))
    assert found == [("device_id", "V-7", "V-9")]


def test_an_exchange_of_the_tube_and_a_new_height_are_always_listed() -> None:
    bigger = replace(airway(at=later(hours=1)), size_mm=Decimal("8.0"), act="exchanged")
    facts = replace(
        course(row()),
        airways=(airway(), bigger),
        body_sizes=(body("170"), body("158", at=later(hours=2))),
    )
    found = [(s.key, s.before, s.after) for s in changes_since(facts, AT, POLICY)]
    assert found == [
        (AIRWAY, "ett_oral 7.5", "ett_oral 8.0"),
        (HEIGHT, Decimal(170), Decimal(158)),
    ]


def test_a_measured_value_is_no_change() -> None:
    assert steps(row(spo2="94"), row(at=later(hours=1), spo2="80")) == []


def test_a_step_is_held_against_the_value_in_force_then_and_not_against_an_older_one() -> None:
    rows = [row(at=later(hours=at), fio2_set=each) for at, each in enumerate(("40", "44", "48"))]
    assert steps(*rows, since=later(hours=1)) == []


@pytest.mark.parametrize(("to", "listed"), [("23", False), ("24", False), ("25", True)])
def test_a_plateau_has_a_noise_band_and_so_is_listed_beyond_it(to: str, listed: bool) -> None:
    rows = row(plateau_pressure_obs="22"), row(at=later(hours=1), plateau_pressure_obs=to)
    assert bool(steps(*rows)) is listed


def corrected(was: str, now: str, at, written) -> Assessment:
    charted = row(at=at, peep_set=now)
    old = replace(charted.readings["peep_set"], number=Decimal(was), recorded_at=at)
    new = replace(
        charted.readings["peep_set"], recorded_at=written, corrected_from=old, why="slip of the pen"
    )
    return replace(charted, readings={"peep_set": new})


def test_a_correction_is_listed_though_the_value_is_older_than_the_shift() -> None:
    charted = corrected("18", "8", AT, later(hours=2))
    (step,) = changes_since(course(charted), later(hours=1), POLICY)
    assert (step.before, step.after, step.corrected_at) == (
        Decimal(18),
        Decimal(8),
        later(hours=2),
    )
    assert step.why == "slip of the pen"


def test_a_correction_before_the_moment_is_no_change_after_it() -> None:
    charted = corrected("18", "8", AT, later(hours=1))
    assert changes_since(course(charted), later(hours=1), POLICY) == ()


def test_a_correction_back_to_what_was_in_force_is_told_as_a_correction() -> None:
    rows = row(peep_set="8"), corrected("12", "8", later(hours=1), later(hours=2))
    assert steps(*rows) == [("peep_set", Decimal(12), Decimal(8))]


def test_a_late_row_is_news_for_who_looked_before_it_was_written() -> None:
    late = replace(row(at=later(hours=-2), peep_set="14"), recorded_at=later(hours=2))
    written = {"peep_set": replace(late.readings["peep_set"], recorded_at=later(hours=2))}
    late = replace(late, readings=written)
    facts = course(row(at=later(hours=-3), peep_set="8"), late, row(at=later(), peep_set="14"))
    since = later(hours=1)
    assert changes_since(facts, since, POLICY) == ()
    (step,) = changes_since(facts, since, POLICY, written_too=True)
    assert (step.before, step.after, step.at) == (Decimal(8), Decimal(14), later(hours=-2))


def test_a_change_says_why_in_the_words_of_its_row() -> None:
    rows = row(peep_set="8"), row(at=later(hours=1), peep_set="12", change_reason="plateau 32")
    assert [s.why for s in changes_since(course(*rows), AT, POLICY)] == ["plateau 32"]


def test_other_limits_of_care_and_a_removed_tube_are_always_listed() -> None:
    gone = replace(airway(at=later(hours=2)), act="removed")
    facts = replace(
        course(row()),
        airways=(airway(), gone),
        care_limits=(
            CareLimits("Full treatment", AT, "Ash"),
            CareLimits("No compressions", later(hours=1), "Oak"),
        ),
    )
    assert [(s.key, s.before, s.after) for s in changes_since(facts, AT, POLICY)] == [
        (LIMITS, "Full treatment", "No compressions"),
        (AIRWAY, "ett_oral 7.5", "removed"),
    ]


def happened(*events, since=AT):
    facts = replace(course(row()), events=events)
    return [(each.words, each.at) for each in events_since(facts, since)]


def test_what_lasts_is_told_when_it_begins_and_when_it_ends() -> None:
    turned, back = later(hours=1), later(hours=9)
    prone = Event("1", "prone", turned, back, "Turned prone: head left", "Ash")
    assert happened(prone) == [("Turned prone: head left", turned), ("Turned supine", back)]
    assert happened(prone, since=turned) == [("Turned supine", back)]
    assert happened(prone, since=back) == []


def test_suction_is_no_news() -> None:
    assert happened(Event("1", "suction", later(hours=1), None, "Suction", "Ash")) == []
