"""Henderson and Hasselbalch."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.physiology.asking import answer, asked, band, shown, unavailable, value


@pytest.mark.parametrize("ph", [735, 73.5, 8.01, 6.49, 0])
@pytest.mark.parametrize("key", ["hh_bicarbonate", "hh_consistency"])
def test_a_ph_without_its_point_is_asked_about(key, ph):
    assert "point" in asked(key, ph=ph, paco2=40, hco3=24)


@pytest.mark.parametrize("ph", [6.5, 8])
def test_the_edges_of_the_entry_range_are_computed(ph):
    assert value("hh_bicarbonate", ph=ph, paco2=40).number > 0


@pytest.mark.parametrize(("paco2", "there"), [(11.9, False), (12, True)])
def test_a_paco2_under_twelve_is_asked_about(paco2, there):
    told = answer("hh_bicarbonate", ph=7.4, paco2=paco2)
    assert hasattr(told, "shown") is there


@pytest.mark.parametrize("key", ["hh_ph", "henderson_h"])
def test_no_bicarbonate_gives_no_value(key):
    assert "zero" in unavailable(key, hco3=0, paco2=40).reason
    assert unavailable(key, hco3=None, paco2=40).missing == ("hco3",)


# 0.03 × 40 × 10^1.3 = 23.943, displayed 23.9: 20.9 and 26.9 are exactly 3 off
@pytest.mark.parametrize(
    ("hco3", "word"),
    [
        (20.8, "inconsistent"),
        (20.9, "consistent"),
        (23.9, "consistent"),
        (26.9, "consistent"),
        (27, "inconsistent"),
    ],
)
def test_the_window_is_judged_on_the_displayed_number(hco3, word):
    assert band("hh_consistency", ph=7.4, paco2=40, hco3=hco3) == word


def test_another_window_can_be_set_but_not_left_empty():
    assert band("hh_consistency", ph=7.4, paco2=40, hco3=27, window=4) == "consistent"
    assert unavailable("hh_consistency", ph=7.4, paco2=40, hco3=27, window=None)


def test_the_verdict_says_how_far_off():
    told = answer("hh_consistency", ph=7.4, paco2=60, hco3=24)
    assert told.basis == "off by 11.9 mmol/L, window 3"


@given(st.integers(680, 780), st.integers(12, 120))
def test_ph_and_bicarbonate_undo_each_other(hundredths, paco2):
    ph = hundredths / 100
    computed = value("hh_bicarbonate", ph=ph, paco2=paco2).number
    if 1 <= computed <= 70:
        assert shown("hh_ph", hco3=float(computed), paco2=paco2) == f"{ph:.2f}"
