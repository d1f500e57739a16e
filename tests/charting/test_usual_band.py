"""What may be passed without waiting for the server is never refused, asked or converted."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.charting.entry import Read, read_typed
from app.charting.field import Shape
from app.charting.fields import FIELDS
from app.charting.usual_band import usual_band
from tests.charting.rows import reading

NUMBERS = sorted(code for code, field in FIELDS.items() if field.shape is Shape.NUMBER)


@settings(max_examples=400, deadline=None)
@given(st.sampled_from(NUMBERS), st.data())
def test_a_number_inside_the_band_is_read_as_typed(code: str, data: st.DataObject) -> None:
    field = FIELDS[code]
    edges = field.soft or field.hard
    assert edges is not None
    last = reading(code, str(data.draw(st.decimals(edges.low, edges.high, places=1))))
    band = usual_band(field, last)
    if band is None:
        return
    places = 0 if field.whole else data.draw(st.sampled_from((0, 1, 2)))
    number = data.draw(st.decimals(band.low, band.high, places=places))
    read = read_typed(field, f"{number:f}", last=last)
    assert isinstance(read, Read)
    assert (read.number, read.said, read.questions) == (number, "", ())


@pytest.mark.parametrize(
    ("last", "low", "high"), [("12", 7, 17), ("18", 13, 20), (None, 0, 20), ("48", None, None)]
)
def test_the_band_is_the_asked_one_and_one_jump_from_the_last(last, low, high) -> None:
    band = usual_band(FIELDS["peep_set"], None if last is None else reading("peep_set", last))
    assert (band and (band.low, band.high)) == (None if low is None else (low, high))


def test_a_share_of_the_last_value_is_rounded_inwards() -> None:
    band = usual_band(FIELDS["tidal_volume_set"], reading("tidal_volume_set", "333"))
    assert band is not None
    assert (band.low, band.high) == (Decimal("249.75"), Decimal("416.25"))


@pytest.mark.parametrize("code", ["flow_pattern", "change_reason", "circuit_changed_on"])
def test_what_is_no_number_has_no_band(code: str) -> None:
    assert usual_band(FIELDS[code], None) is None
