"""The bounds outside which a number looks mistyped."""

from decimal import Decimal

import pytest

from app.physiology.units import read_unit
from app.physiology.vocabulary import TERMS, doubt_about_kpa


@pytest.mark.parametrize(
    ("name", "number", "doubted"),
    [
        ("vt", "0", False),
        ("vt", "9.9", True),
        ("vt", "10", False),
        ("vt", "3000", False),
        ("vt", "3001", True),
        ("fio2", "20.9", True),
        ("fio2", "21", False),
        ("fio2", "100", False),
        ("fio2", "100.1", True),
        ("ph", "7.35", False),
        ("ph", "735", True),
        ("paco2", "11.9", True),
        ("paco2", "12", False),
        ("pao2", "19.9", True),
        ("pao2", "20", False),
        ("rr", "-5", True),
        ("rr", "216", True),
        ("spo2", "0.95", True),
        ("spo2", "0", False),
    ],
)
def test_a_number_outside_its_bounds_is_doubted(name, number, doubted):
    assert bool(TERMS[name].doubt(Decimal(number))) is doubted


@pytest.mark.parametrize(
    ("name", "kilopascals", "doubted"),
    [
        ("paco2", "15", False),
        ("paco2", "15.1", True),
        ("pao2", "85", False),
        ("pao2", "85.1", True),
        ("peco2_mixed", "27", True),
        ("pb", "101", False),
    ],
)
def test_a_gas_too_high_for_kilopascals_is_doubted(name, kilopascals, doubted):
    assert bool(doubt_about_kpa(name, Decimal(kilopascals))) is doubted


def test_a_doubt_names_the_input_the_number_and_the_unit():
    assert TERMS["rr"].doubt(Decimal(-5)) == "Total rate -5 /min is under 0: a minus sign too many?"


def test_every_unit_of_an_input_is_in_the_registry():
    assert all(read_unit(term.unit) for term in TERMS.values())


def test_bounds_are_the_right_way_round():
    bounded = [term for term in TERMS.values() if term.kind == "number"]
    assert all(term.low < term.high for term in bounded)
