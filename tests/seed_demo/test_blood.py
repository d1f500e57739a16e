"""Gas exchange of the simulation against printed figures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from seed_demo.blood import (
    Exchange,
    alveolar_oxygen,
    alveolar_ventilation,
    arterial_co2,
    arterial_po2,
    blood_gas,
    saturation_of,
)


@pytest.mark.parametrize(("po2", "percent"), [(40, 74.95), (60, 90.58), (100, 97.75)])
def test_saturation_follows_severinghaus(po2, percent):
    """Severinghaus, J Appl Physiol 1979, his equation."""
    assert saturation_of(po2) == pytest.approx(percent, abs=0.01)


def test_half_of_the_haemoglobin_is_saturated_at_27_mmhg():
    """P50 of the same curve is 26.9 mmHg."""
    assert saturation_of(26.9) == pytest.approx(50, abs=0.2)


def test_a_usual_ventilation_gives_a_paco2_of_40():
    """200 mL/min of CO2 and 4.3 L/min of alveolar ventilation: a textbook's resting adult."""
    assert arterial_co2(200, 4.315) == pytest.approx(40, abs=0.1)


def test_half_the_alveolar_ventilation_doubles_the_paco2():
    assert arterial_co2(200, 2) == pytest.approx(2 * arterial_co2(200, 4))


def test_dead_space_is_a_share_of_each_breath():
    assert alveolar_ventilation(0.5, 12, 0.3) == pytest.approx(4.2)


def test_room_air_gives_the_textbooks_alveolar_oxygen():
    """About 100 mmHg at a PaCO2 of 40 (R 0.8, sea level)."""
    assert alveolar_oxygen(21, 40) == pytest.approx(101.8, abs=0.2)


def test_without_a_shunt_arterial_is_alveolar():
    assert arterial_po2(102.0, 0.0, 12) == pytest.approx(102.0, abs=0.2)


def test_a_shunt_of_a_half_hardly_answers_to_oxygen():
    """The flat end of the iso-shunt diagram (Benatar 1973, from memory)."""
    low, high = (arterial_po2(alveolar_oxygen(fio2, 40), 0.5, 10) for fio2 in (40, 100))
    assert 0 < high - low < 15


def test_a_small_shunt_answers_to_oxygen():
    low, high = (arterial_po2(alveolar_oxygen(fio2, 40), 0.05, 10) for fio2 in (40, 100))
    assert high - low > 200


@given(st.floats(0, 0.55), st.floats(0.01, 0.05))
def test_more_shunt_never_gives_more_oxygen(shunt, more):
    assert arterial_po2(300, shunt + more, 10) <= arterial_po2(300, shunt, 10)


def test_a_gas_holds_together_by_henderson_and_hasselbalch():
    """24 mmol/L and 40 mmHg are a pH of 7.40."""
    exchange = Exchange(0.05, 0.3, 200, 24, 12)
    assert blood_gas(exchange, 40, 4.315).ph == pytest.approx(7.40, abs=0.005)


def test_a_patient_beyond_the_equations_is_refused():
    with pytest.raises(ValueError, match="left what can be worked out"):
        alveolar_oxygen(21, 300)
