"""A blood gas against itself, the monitor and the oxygen given: under, at, over and missing."""

import pytest

from app.charting.facts import Kind
from tests.charting.cross_checks.held import around, codes, in_force
from tests.charting.rows import AT, gas, later, reading, row


def test_a_gas_asks_for_its_specimen() -> None:
    assert "specimen_not_named" in codes(row("", Kind.GAS, pao2=90))
    assert "specimen_not_named" in codes(gas(gas_specimen="unknown", pao2=90))
    assert codes(gas(pao2=90)) == set()


@pytest.mark.parametrize(
    ("end_tidal", "code"),
    [
        (45, None),
        (46, "end_tidal_above_arterial"),
        (25, None),
        (24, "end_tidal_gap"),
    ],
)
def test_end_tidal_is_held_against_arterial(end_tidal: int, code: str | None) -> None:
    before = around(
        previous={"etco2_mmhg": reading("etco2_mmhg", str(end_tidal), later(minutes=-30))}
    )
    assert codes(gas(paco2=40), before) == ({code} if code else set())


def test_end_tidal_is_not_compared_across_time_or_with_a_venous_sample() -> None:
    stale = around(previous={"etco2_mmhg": reading("etco2_mmhg", "60", later(minutes=-31))})
    assert codes(gas(paco2=40), stale) == set()
    near = around(previous={"etco2_mmhg": reading("etco2_mmhg", "60", later(minutes=-5))})
    assert codes(gas(paco2=40, gas_specimen="venous"), near) == set()


def test_a_new_end_tidal_is_held_against_the_last_gas() -> None:
    drawn = gas(later(minutes=-10), paco2=40)
    assert codes(row(etco2_mmhg=60), around(gas=drawn)) == {"end_tidal_above_arterial"}
    assert codes(row(etco2_mmhg=40), around(gas=drawn)) == set()


@pytest.mark.parametrize(("spo2", "said"), [(92, False), (91, True), (100, False)])
def test_saturations_more_than_four_points_apart_are_asked(spo2: int, said: bool) -> None:
    near = around(previous={"spo2": reading("spo2", str(spo2), AT)})
    assert ("saturation_gap" in codes(gas(sao2=96), near)) is said


@pytest.mark.parametrize(("pao2", "said"), [("253.4", False), ("253.45", False), ("253.5", True)])
def test_oxygen_above_what_the_inspired_oxygen_allows_is_asked(pao2: str, said: bool) -> None:
    drawn = gas(pao2=pao2, paco2=45, fio2_at_sample=40)
    assert ("oxygen_above_ceiling" in codes(drawn)) is said
    assert "oxygen_above_ceiling" not in codes(gas(pao2=pao2, paco2=45))


def test_the_slips_oxygen_is_asked_about_where_another_was_in_force() -> None:
    settings = around(settings=in_force(fio2_set=40))
    assert codes(gas(fio2_at_sample=50, pao2=90), settings) == {"oxygen_at_sample_differs"}
    assert codes(gas(fio2_at_sample="40.0", pao2=90), settings) == set()
    assert codes(gas(fio2_at_sample=50, pao2=90)) == set()


@pytest.mark.parametrize(
    ("charted", "said"), [("26.9", False), ("27", True), ("20.9", False), ("20.8", True)]
)
def test_a_bicarbonate_more_than_three_off_is_asked(charted: str, said: bool) -> None:
    drawn = gas(ph="7.40", paco2=40, hco3=charted)
    assert ("bicarbonate_off" in codes(drawn)) is said
    assert "bicarbonate_off" not in codes(gas(paco2=40, hco3=charted))
