"""Every published case, through the same function as the `calculate` command.

Two of its indices are none of the app's: a severity class for children (decision 23: there is none
in this version) and the regression behind the S/F bands. They are worked out here, so that the
numbers that the app's own bands rest on stay checked.
"""

import json
from collections import Counter

import pytest

from app.physiology.calculate import answer_text
from app.physiology.catalogue import ALIASES, CATALOGUE, find
from app.physiology.sources import SOURCES
from tests.published.sources import PublishedCase, published_cases

CASES = published_cases()
PALICC_2015 = ((16, "severe"), (8, "moderate"), (4, "mild"))


def rice_sf_from_pf(inputs):
    """S/F = 64 + 0.84 × P/F (Rice, Chest 2007, abstract)."""
    number = 64 + 0.84 * inputs["pf"]
    return {"state": "value", "value": number, "shown": f"{number:.0f}"}


def palicc2015_oi_class(inputs):
    """Lower edges of the 2015 table, for invasively ventilated children (PMC6589490, T1)."""
    word = next((word for edge, word in PALICC_2015 if inputs["oi"] >= edge), "none")
    return {"state": "class", "value": word, "shown": word}


ONLY_HERE = {
    "rice_sf_from_pf": rice_sf_from_pf,
    "palicc2015_oi_class": palicc2015_oi_class,
}


@pytest.fixture(scope="module")
def answered():
    asked = json.dumps([case.as_asked() for case in CASES], ensure_ascii=False)
    return {row["id"]: row for row in json.loads(answer_text(asked))}


def answer_to(case: PublishedCase, answered):
    work_out_here = ONLY_HERE.get(case.index)
    return work_out_here(case.inputs) if work_out_here else answered[case.id]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_the_answer_has_the_state_that_the_source_allows(case, answered):
    assert answer_to(case, answered)["state"] == case.state, case.note


@pytest.mark.parametrize("case", [c for c in CASES if c.state == "value"], ids=str)
def test_the_value_is_within_the_tolerance_of_the_published_one(case, answered):
    assert answer_to(case, answered)["value"] == pytest.approx(case.expected, abs=case.tol, rel=0)


@pytest.mark.parametrize("case", [c for c in CASES if c.state == "value"], ids=str)
def test_the_number_is_shown_as_a_page_would_show_it(case, answered):
    assert answer_to(case, answered)["shown"] == case.shown


@pytest.mark.parametrize("case", [c for c in CASES if c.state == "class"], ids=str)
def test_the_band_has_the_published_word(case, answered):
    assert answer_to(case, answered)["value"] == case.expected


@pytest.mark.parametrize(
    "case", [c for c in CASES if c.state in ("query", "not_available")], ids=str
)
def test_where_there_is_no_number_there_is_a_reason(case, answered):
    row = answer_to(case, answered)
    assert row["value"] is None
    assert row["reason"]


def test_every_case_names_a_source_that_has_a_citation():
    assert {case.source for case in CASES} <= set(SOURCES)


def test_every_index_of_the_cases_is_in_the_catalogue_or_is_worked_out_here():
    unknown = {case.index for case in CASES if find(case.index) is None}
    assert unknown == set(ONLY_HERE)


def test_the_cases_are_all_there_and_no_id_stands_twice():
    assert len(CASES) == 309
    assert max(Counter(case.id for case in CASES).values()) == 1


def test_every_index_that_a_published_case_exists_for_is_checked_by_one():
    checked = {ALIASES.get(case.index, case.index) for case in CASES}
    # composed of checked parts, and checked with its parts in tests/physiology
    assert set(CATALOGUE) - checked == {"aa_gradient", "mechanical_power"}
