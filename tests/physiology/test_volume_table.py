"""The volume table agrees with the weight formula and with the ratio that the chart shows."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.physiology.catalogue import CATALOGUE
from app.physiology.volume_table import volumes


def test_a_printed_weight_gives_its_printed_volumes() -> None:
    # ARDS Network card: 70 in male, 73 kg.
    assert volumes(Decimal(73)) == ((4, "292"), (5, "365"), (6, "438"), (7, "511"), (8, "584"))


def test_half_a_millilitre_is_rounded_up() -> None:
    assert dict(volumes(Decimal("52.1")))[5] == "261"


@pytest.mark.parametrize("sex", ["F", "M"])
@given(height=st.decimals(150, 215, places=1))
def test_each_volume_shows_its_millilitres_per_kilogram_again(sex: str, height: Decimal) -> None:
    weight = CATALOGUE["pbw"].work_out({"sex": sex, "height": height}).number
    for per_kg, volume in volumes(weight):
        ratio = CATALOGUE["vt_per_pbw"].work_out({"vt": Decimal(volume), "pbw": weight})
        assert ratio.shown == f"{per_kg}.0"
