"""Orders against settings: under, at and over each bound, and silent where one is missing."""

from decimal import Decimal

import pytest

from app.charting.cross_checks import Weight
from app.charting.facts import Targets
from tests.charting.cross_checks.held import around, codes, found
from tests.charting.rows import row

ORDERED = Targets(Decimal(88), Decimal(95), Decimal(6), ordered_by="Dr Oak")
WEIGHT = Decimal("52.4")


@pytest.mark.parametrize(
    ("volume", "said"), [(301, True), (302, False), (314, False), (327, False), (328, True)]
)
def test_a_set_volume_off_the_order_is_noted_as_displayed(volume: int, said: bool) -> None:
    # 6 mL/kg of 52.4 kg: 302 mL shows 5.8, 327 shows 6.2; 301 and 328 show 5.7 and 6.3.
    context = around(targets=ORDERED, pbw_kg=WEIGHT)
    assert ("volume_off_order" in codes(row(tidal_volume_set=volume), context)) is said


def test_the_difference_says_both_and_who_ordered_it() -> None:
    context = around(targets=ORDERED, pbw_kg=WEIGHT)
    finding = found(row(tidal_volume_set=420), context)["volume_off_order"]
    assert finding.weight is Weight.NOTE
    assert finding.sentence == (
        "Differs from the order (Dr Oak): 6 mL/kg is 314 mL, VT set 420 mL is 8.0 mL/kg."
    )


def test_the_rows_own_order_comes_before_the_one_on_file() -> None:
    context = around(targets=ORDERED, pbw_kg=WEIGHT)
    assert "volume_off_order" not in codes(
        row(tidal_volume_set=420, tidal_volume_target_ml_kg=8), context
    )


def test_without_order_volume_or_weight_there_is_no_difference() -> None:
    assert "volume_off_order" not in codes(row(tidal_volume_set=420), around(pbw_kg=WEIGHT))
    assert "volume_off_order" not in codes(row(tidal_volume_set=420), around(targets=ORDERED))
    assert "volume_off_order" not in codes(row(), around(targets=ORDERED, pbw_kg=WEIGHT))


@pytest.mark.parametrize(("saturation", "side"), [(87, "below"), (88, ""), (95, ""), (96, "above")])
def test_a_saturation_outside_the_ordered_band_is_noted_with_its_oxygen(
    saturation: int, side: str
) -> None:
    findings = found(row(spo2=saturation, fio2_set=45), around(targets=ORDERED))
    assert ("saturation_off_order" in findings) is bool(side)
    if side:
        said = findings["saturation_off_order"].sentence
        assert said == (
            f"SpO2 {saturation} % is {side} the ordered 88 to 95 % (Dr Oak), on FiO2 45 %."
        )


def test_without_a_band_no_saturation_differs() -> None:
    assert "saturation_off_order" not in codes(row(spo2=70))
