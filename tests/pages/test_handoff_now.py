"""What a handoff says of the tube and of the gas: which tube, at which mark, from which sample."""

import pytest
from msgspec.structs import replace

from app.charting.facts import Airway, Assessment
from app.pages.handoff import sections_of
from app.pages.handoff_page import Section
from app.pages.known import known
from app.rules.unit_clock import UnitClock
from tests.charting.rows import airway, body, course, later
from tests.rules.watch.scenes import POLICY, check

LARCH = UnitClock("America/New_York")
MARKED = {"airway_depth_cm": "22", "airway_depth_reference": "teeth", "cuff_pressure_cmh2o": "26"}


def section(
    key: str, *rows: Assessment, tubes: tuple[Airway, ...] = (), size=None, age_y: int = 60
) -> Section:
    facts = course(*rows, size=size, age_y=age_y)
    facts = replace(facts, airways=tubes or facts.airways)
    seen = known(facts, POLICY, LARCH, later(hours=6))
    return next(each for each in sections_of(seen, editable=False) if each.key == key)


def said(told: Section) -> str:
    """Every line of a section, in one text."""
    seen = (line.text for at in told.seen for line in at.told)
    return "\n".join((*told.lines, *seen))


def test_a_depth_says_its_mark() -> None:
    told = said(section("airway", check(0, **MARKED)))
    assert "Depth 22 cm at the teeth" in told
    assert "at the lip" not in told  # where it was placed, before somebody looked again


def test_a_depth_that_nobody_read_since_is_that_of_the_placing() -> None:
    assert "Oral tube, 7.5 mm inside, 22 cm at the lip" in said(section("airway", check(0)))


@pytest.mark.parametrize("cuff", [None, "24"])
def test_what_was_read_at_the_tube_before_is_not_said_of_the_next(cuff) -> None:
    stoma = replace(airway("trach", later(hours=1), None), act="tracheostomy", depth_reference="")
    after = check(4, cuff_pressure_cmh2o=cuff)
    told = said(section("airway", check(0, **MARKED), after, tubes=(airway(), stoma)))
    assert "Depth" not in told
    assert "Cuff 26" not in told
    assert ("Cuff 24 cmH2O" in told) is (cuff is not None)


def test_the_spares_of_a_tracheostomy_are_said() -> None:
    stoma = replace(airway("trach"), depth_reference="", spare_same="yes", spare_smaller="no")
    told = said(section("airway", check(0), tubes=(stoma,)))
    assert "Spare of the same size at the bed: yes" in told
    assert "spare one size smaller at the bed: no" in told


@pytest.mark.parametrize(
    ("method", "gap"),
    [
        ("estimated", "Height 170 cm is estimated by eye: predicted weight and mL/kg rest on it"),
        ("reported", "Height 170 cm is reported: predicted weight and mL/kg rest on it"),
        ("supine_tape", ""),
    ],
)
def test_a_height_that_nobody_measured_is_a_gap(method: str, gap: str) -> None:
    lines = section("gaps", check(0), size=replace(body(), height_method=method)).lines
    assert [line for line in lines if line.startswith("Height")] == ([gap] if gap else [])


def test_a_childs_height_bears_no_predicted_weight() -> None:
    size = replace(body(), height_method="estimated")
    assert "Height" not in said(section("gaps", check(0), size=size, age_y=9))


def test_an_added_gas_says_when_it_was_charted() -> None:
    long_ago = check(0, nitric_oxide_ppm="20", ecmo_sweep_lpm="0")
    told = said(section("danger", long_ago, check(4)))
    assert told == "Inhaled nitric oxide 20 ppm, charted 07:30"
