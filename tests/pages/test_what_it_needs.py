"""What a page says that an index needs is what it needs: with that much more there is a number."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.charting.derive import CHARTED
from app.charting.facts import Assessment, Kind
from app.charting.moment import Moment
from app.charting.terms import Term, Told
from app.pages.what_it_needs import missing_inputs, needs_of
from app.physiology.answer import NotAvailable, Value
from app.physiology.catalogue import CATALOGUE

A_PASSIVE_BREATH = {
    "vte": Decimal(420),
    "vt_set": Decimal(420),
    "rr": Decimal(20),
    "ti": Decimal("0.9"),
    "ppeak": Decimal(32),
    "pplat": Decimal(26),
    "peep_set": Decimal(10),
    "peep_total": Decimal(11),
    "passive": "yes",
    "flow": Decimal(60),
    "flow_pattern": "constant",
    "family": "ac_vc",
    "height": Decimal(160),
    "sex": "F",
    "spo2": Decimal(94),
    "fio2": Decimal(50),
    "pmean": Decimal(17),
}
A_GAS = {
    "pao2": Decimal(80),
    "paco2": Decimal(44),
    "sample": "arterial",
    "fio2": Decimal(50),
    "ve": Decimal("8.4"),
    "pmean": Decimal(17),
    "height": Decimal(160),
    "sex": "F",
}
OF_A_GAS = ("pf_ratio", "aa_gradient", "alveolar_po2", "oxygenation_index", "ventilatory_ratio")
OF_A_CHECK = (
    "pbw",
    "vt_per_pbw",
    "driving_pressure",
    "compliance_static",
    "compliance_dynamic",
    "airway_resistance",
    "auto_peep",
    "minute_ventilation",
    "ie_ratio",
    "expiratory_time",
    "sf_ratio",
    "oxygen_saturation_index",
    "mechanical_power",
)
WHOLE = dict.fromkeys(OF_A_GAS, A_GAS) | dict.fromkeys(OF_A_CHECK, A_PASSIVE_BREATH)
NOW = datetime(2026, 3, 9, 11, 30, tzinfo=UTC)
GAS = Moment(Assessment("gas", Kind.GAS, NOW, NOW, "ash", "", {}), family="ac_vc")


def answer_to(key: str, known: dict[str, object]):
    read = {one.name for one in CATALOGUE[key].inputs}
    return CATALOGUE[key].work_out({name: raw for name, raw in known.items() if name in read})


@pytest.mark.parametrize("key", WHOLE)
def test_with_everything_there_is_a_number(key: str) -> None:
    assert isinstance(answer_to(key, WHOLE[key]), Value)


@pytest.mark.parametrize("key", WHOLE)
@given(data=st.data())
def test_with_what_is_said_to_be_missing_there_is_a_number(key: str, data) -> None:
    left_out = data.draw(st.sets(st.sampled_from(sorted(WHOLE[key]))))
    known = {name: raw for name, raw in WHOLE[key].items() if name not in left_out}
    if "passive" in left_out:
        known["passive"] = None  # the chart always asks
    answer = answer_to(key, known)
    terms = {name: Term(raw, Told("known")) for name, raw in known.items()}
    missing = missing_inputs(CATALOGUE[key], answer, terms, GAS if key in OF_A_GAS else None)
    added = {names[0]: WHOLE[key][names[0]] for names in missing if names[0] in WHOLE[key]}
    assert len(added) == len(missing)
    assert isinstance(answer_to(key, {**known, **added}), Value)


def test_where_no_input_would_help_nothing_is_asked_for() -> None:
    ruled_out = NotAvailable("not in this mode", applicable=False)
    assert needs_of(CATALOGUE["driving_pressure"], ruled_out, {}, None) == ()


@pytest.mark.parametrize("key", CHARTED)
def test_every_charted_index_says_in_words_what_it_lacks_without_any_row(key: str) -> None:
    needs = needs_of(CATALOGUE[key], NotAvailable("no row"), {}, None)
    assert needs
    assert len({need.what for need in needs}) == len(needs)
