"""Gases around a turn and since an offer: in the site's unit, and from which vessel."""

import pytest

from app.charting.event_facts import Event
from app.pages.difference_words import difference_line
from app.pages.known import Known, known
from app.pages.prone_words import around_turn
from app.pages.site_words import PLAIN, SiteWords
from app.rules.since_then import Difference, What
from app.rules.unit_clock import UnitClock
from tests.charting.rows import course, gas, later
from tests.rules.watch.scenes import POLICY, check

LARCH = UnitClock("America/New_York")
TYPED_IN_KPA = {"ph": "7.40", "paco2": "45.0037", "pao2": "90.0074"}  # 6.0 and 12.0 kPa
TURN = Event("prone", "prone", later(hours=1), None, "prone", "ash", ())


def seen(specimen: str, words: SiteWords = PLAIN) -> Known:
    drawn = gas(later(minutes=30), gas_specimen=specimen, **TYPED_IN_KPA)
    return known(course(check(0), drawn), POLICY, LARCH, later(hours=3), words)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (PLAIN, "pH 7.40, PaCO2 45 mmHg, PaO2 90 mmHg"),
        (SiteWords(gas_in_kpa=True), "pH 7.40, PaCO2 6.0 kPa, PaO2 12.0 kPa"),
    ],
)
def test_a_gas_around_a_turn_is_written_as_the_site_writes_it(words, told) -> None:
    before, *_ = around_turn(TURN, seen("arterial", words))
    assert before.startswith(f"Gas before the turn: {told}, P/F")


def test_a_gas_around_a_turn_that_is_not_arterial_says_so() -> None:
    before, *_ = around_turn(TURN, seen("venous"))
    assert "PaO2 90 mmHg, venous sample, no P/F" in before


@pytest.mark.parametrize(("specimen", "said"), [("arterial", False), ("venous", True)])
def test_a_new_gas_since_an_offer_says_where_it_is_from(specimen: str, said: bool) -> None:
    facts = seen(specimen)
    row = facts.facts.assessments[-1]
    item = Difference(row.id, What.NEW_ROW, row.recorded_at, "ash", None, row)
    assert ("venous sample" in difference_line(item, facts).detail) is said
