"""The line on the board: a pure function of the facts, whatever the hour, there and back."""

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from app.rules.bed_summary import from_text, summarise, to_text
from app.rules.policy import starting_policy
from app.rules.unit_clock import UnitClock
from tests.charting.rows import AT, airway, course, gas, later, row

POLICY = starting_policy()
LARCH = UnitClock("America/New_York")
VOLUME = {
    "fio2_set": "45",
    "peep_set": "12",
    "tidal_volume_set": "420",
    "tidal_volume_obs": "420",
    "plateau_pressure_obs": "26",
    "hold_passive": "yes",
    "peep_total": "12",
    "spo2": "94",
    "cuff_pressure_cmh2o": "26",
}


def of(*rows, **more):
    return summarise(course(*rows, **more), POLICY, LARCH)


def test_plain_mechanics_stand_on_the_board() -> None:
    # 26 - 12 = 14 cmH2O; 420 / 14 = 30 mL/cmH2O.
    cells = of(row(**VOLUME)).cells
    assert (cells["driving_pressure"].text, cells["compliance_static"].text) == ("14", "30")


def test_the_summary_survives_its_text_form() -> None:
    summary = of(row(**VOLUME), gas(at=later(hours=1), ph="7.31", paco2="52", pao2="68"))
    assert from_text(to_text(summary)) == summary


def test_a_setting_of_an_earlier_mode_is_no_longer_a_value() -> None:
    high_flow = row("hfnc", at=later(hours=4), fio2_set="40", lpm_set="50", spo2="95")
    facts = course(row(**VOLUME), high_flow)
    out = replace(airway("nasal_cannula", later(hours=3)), act="placed")
    cells = summarise(replace(facts, airways=(airway(), out)), POLICY, LARCH).cells
    assert "peep_set" not in cells
    assert "cuff_pressure_cmh2o" not in cells
    assert cells["fio2_set"].text == "40"


MARKED = {**VOLUME, "airway_depth_cm": "22", "airway_depth_reference": "lip"}


def after(act: str, category: str, depth: str | None, reference: str, *rows):
    """The line after something was done with the oral tube an hour after the first check."""
    then = airway(category, later(hours=1), depth)
    then = replace(then, act=act, depth_reference=reference)
    facts = course(row(**MARKED), *rows)
    return summarise(replace(facts, airways=(airway(depth="21"), then)), POLICY, LARCH)


def test_the_newest_mark_is_that_of_the_last_look_at_the_tube() -> None:
    assert of(row(**MARKED)).airway.depth_cm == "22"
    teeth = row(at=later(hours=4), airway_depth_cm="21", airway_depth_reference="teeth")
    told = of(row(**MARKED), teeth).airway
    assert (told.depth_cm, told.depth_reference) == ("21", "teeth")


@pytest.mark.parametrize(
    ("act", "category", "depth", "reference"),
    [("exchanged", "ett_oral", "23", "teeth"), ("tracheostomy", "trach", None, "")],
)
def test_mark_and_cuff_of_the_tube_before_are_not_those_of_the_next(
    act, category, depth, reference
) -> None:
    line = after(act, category, depth, reference)
    assert (line.airway.depth_cm, line.airway.depth_reference) == (depth or "", reference)
    assert not {"airway_depth_cm", "cuff_pressure_cmh2o"} & set(line.cells)
    read = row(at=later(hours=4), cuff_pressure_cmh2o="24")
    assert after(act, category, depth, reference, read).cells["cuff_pressure_cmh2o"].text == "24"


def test_a_tube_that_was_moved_has_its_new_mark_and_its_old_cuff() -> None:
    line = after("repositioned", "ett_oral", "24", "lip")
    assert line.airway.depth_cm == "24"
    assert line.cells["cuff_pressure_cmh2o"].text == "26"


def test_a_tube_that_was_secured_anew_keeps_its_mark() -> None:
    assert after("re-secured", "ett_oral", "22", "lip").cells["airway_depth_cm"].text == "22"


def test_a_ratio_keeps_the_time_of_its_gas() -> None:
    summary = of(row(**VOLUME), gas(at=later(hours=1), ph="7.31", paco2="52", pao2="68"))
    assert (summary.cells["pf_ratio"].text, summary.cells["pf_ratio"].at) == (
        "151",
        later(hours=1),
    )


def test_an_unlooked_at_value_stands_and_a_failed_one_does_not() -> None:
    kept = of(row(**VOLUME), row(at=later(hours=4), spo2="94", tidal_volume_obs="420"))
    failed = of(
        row(**VOLUME),
        row(at=later(hours=4), not_done={"plateau_pressure_obs": "effort"}, spo2="94"),
    )
    assert kept.cells["driving_pressure"].text == "14"
    assert failed.cells["driving_pressure"].text == ""
    assert failed.cells["driving_pressure"].last_text == "14"


def test_a_struck_row_and_an_unsigned_one_are_no_facts() -> None:
    struck = replace(row(at=later(hours=4), **{**VOLUME, "spo2": "80"}), struck="wrong patient")
    draft = replace(row(at=later(hours=5), **{**VOLUME, "spo2": "81"}), signed=False)
    assert of(row(**VOLUME), struck, draft).cells["spo2"].text == "94"


def test_the_edges_are_every_moment_at_which_time_alone_changes_it() -> None:
    summary = of(row(**VOLUME))
    edges = set(summary.edges())
    assert {summary.due.late_at, summary.due.overdue_at, AT + timedelta(hours=6)} <= edges


@settings(deadline=None)
@given(st.permutations(range(4)))
def test_the_order_of_saving_makes_no_difference(order: list[int]) -> None:
    rows = [row(at=later(hours=4 * at), **{**VOLUME, "spo2": str(90 + at)}) for at in range(4)]
    shuffled = course(*(rows[at] for at in order))
    assert summarise(shuffled, POLICY, LARCH) == of(*rows)
