"""The catalogue: every index once, told in full, and reading only what it says it reads."""

from collections import Counter
from decimal import Decimal
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.physiology.answer import NotAvailable, Query, Value, Verdict
from app.physiology.catalogue import ALIASES, CATALOGUE, ON_THE_BOARD, find
from app.physiology.sources import SOURCES
from app.physiology.units import read_unit
from app.physiology.vocabulary import TERMS

INDICES = list(CATALOGUE.values())
CHARTED = (
    "pbw vt_per_pbw driving_pressure compliance_static compliance_dynamic airway_resistance "
    "auto_peep minute_ventilation ie_ratio expiratory_time time_constant rsbi pf_ratio sf_ratio "
    "oxygenation_index oxygen_saturation_index ventilatory_ratio mechanical_power rox "
    "alveolar_po2 aa_gradient dead_space_enghoff cylinder_minutes hh_bicarbonate severinghaus_so2"
)


class Watched(dict):
    """Given inputs that remember which names were asked for."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.asked_for = set()

    def get(self, name, default=None):
        self.asked_for.add(name)
        return super().get(name, default)

    def __contains__(self, name):
        self.asked_for.add(name)
        return super().__contains__(name)


WORDS = (
    "arterial",
    "venous",
    "ac_vc",
    "ac_pc",
    "simv_vc",
    "csv_ps",
    "hfnc",
    "banana",
    "spontaneous",
    "M",
    "f",
    "constant",
    "absolute",
    "above_peep",
    "kPa",
    "g/dL",
    "heated",
    "hme",
)


def _mixture(seed):
    """Any mixture of inputs: plausible, zero, wild, text, unanswered, or not there at all."""
    dice = Random(seed)
    share = dice.random()
    return {name: _drawn(dice, term) for name, term in TERMS.items() if dice.random() < share}


def _drawn(dice, term):
    odd = (None, Decimal(0), Decimal(dice.randint(-100, 10_000)) / 10, True, False, "not done", "")
    if dice.random() < 0.1:
        return dice.choice(odd)
    if term.kind == "yes_no":
        return dice.random() < 0.8
    if term.kind == "word":
        return dice.choice(WORDS)
    return Decimal(dice.randint(int(term.low * 100), int(term.high * 100))) / 100


mixtures = st.integers(0, 2**48).map(_mixture)


def test_the_board_shows_the_first_ten_and_pf():
    assert ON_THE_BOARD[:10] == tuple(CHARTED.split()[:10])
    assert ON_THE_BOARD[10:] == ("pf_ratio",)


def test_every_charted_index_is_in_the_catalogue():
    assert set(CHARTED.split()) <= set(CATALOGUE)


def test_an_alias_finds_its_index_and_hides_none():
    assert not set(ALIASES) & set(CATALOGUE)
    assert {find(alias).key for alias in ALIASES} == set(ALIASES.values())
    assert find("no such index") is None


@pytest.mark.parametrize("index", INDICES, ids=lambda index: index.key)
def test_an_index_is_told_in_full(index):
    assert index.label
    assert index.formula
    assert index.valid_when.endswith(".")
    assert SOURCES[index.source.key] is index.source
    assert 0 < len(index.short_label) <= 16


@pytest.mark.parametrize("index", INDICES, ids=lambda index: index.key)
def test_an_input_stands_once_with_a_unit_that_is_known(index):
    assert max(Counter(wanted.name for wanted in index.inputs).values()) == 1
    assert all(read_unit(wanted.unit) for wanted in index.inputs)
    assert any(wanted.required for wanted in index.inputs)


def test_a_unit_of_a_result_is_known():
    assert all(read_unit(index.unit) for index in INDICES)


def test_names_are_told_apart_on_a_page():
    for told in ("label", "short_label"):
        words = Counter(getattr(index, told) for index in INDICES)
        assert max(words.values()) == 1


@pytest.mark.parametrize("index", INDICES, ids=lambda index: index.key)
def test_with_nothing_given_there_is_a_reason_and_never_a_number(index):
    answer = index.work_out({})
    assert isinstance(answer, NotAvailable | Query)
    assert answer.reason


@given(mixtures)
def test_an_index_reads_only_inputs_that_it_declares(inputs):
    for index in INDICES:
        watched = Watched(inputs)
        index.work_out(watched)
        assert watched.asked_for <= {wanted.name for wanted in index.inputs}, index.key


@given(mixtures)
def test_whatever_is_given_the_answer_is_a_finite_number_a_word_or_a_reason(inputs):
    for index in INDICES:
        answer = index.work_out(inputs)
        if isinstance(answer, Value):
            assert answer.number.is_finite(), index.key
            assert answer.shown
        else:
            assert answer.word if isinstance(answer, Verdict) else answer.reason


@given(mixtures)
def test_what_was_used_was_given(inputs):
    for index in INDICES:
        answer = index.work_out(inputs)
        if isinstance(answer, Value | Verdict):
            assert set(answer.used) <= set(inputs), index.key


@given(mixtures)
def test_only_differences_that_may_be_negative_ever_are(inputs):
    for index in INDICES:
        answer = index.work_out(inputs)
        if isinstance(answer, Value) and index.key != "convert_pressure":
            assert answer.number >= 0, (index.key, answer)


def test_the_mixtures_reach_a_number_of_nearly_every_index():
    reached = set()
    for seed in range(600):
        inputs = _mixture(seed)
        reached |= {i.key for i in INDICES if isinstance(i.work_out(inputs), Value | Verdict)}
    assert len(reached) >= len(INDICES) - 5, set(CATALOGUE) - reached
