"""One stored number, written as this site writes it; and the site's own names for things."""

from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.fields import FIELDS
from app.charting.shown import shown, with_unit
from app.pages.site_words import LIMITS_OF_CARE, PLAIN, RECORD_NUMBER, SiteWords
from app.rules.policy import Limit, starting_policy

FRACTION = SiteWords(oxygen_as_fraction=True)
KPA = SiteWords(gas_in_kpa=True)


@pytest.mark.parametrize(
    ("stored", "plain", "fraction"),
    [("40", "40 %", "0.40"), ("100", "100 %", "1.00"), ("21", "21 %", "0.21")],
)
def test_oxygen_is_written_as_percent_or_as_a_fraction(stored: str, plain: str, fraction: str):
    number = Decimal(stored)
    assert with_unit(PLAIN.fields["fio2_set"], number) == plain
    assert with_unit(FRACTION.fields["fio2_set"], number) == fraction


@pytest.mark.parametrize(
    ("stored", "plain", "kpa"),
    [
        ("90.0074", "90 mmHg", "12.0 kPa"),
        ("45", "45 mmHg", "6.0 kPa"),
        ("10", "10 mmHg", "1.3 kPa"),
    ],
)
def test_a_gas_pressure_is_written_in_the_sites_unit(stored: str, plain: str, kpa: str):
    number = Decimal(stored)
    assert with_unit(PLAIN.fields["pao2"], number) == plain
    assert with_unit(KPA.fields["pao2"], number) == kpa


def test_whatever_a_site_has_no_choice_of_is_the_same_everywhere():
    both = SiteWords(oxygen_as_fraction=True, gas_in_kpa=True)
    other = {code for code, field in both.fields.items() if field is not FIELDS[code]}
    assert other == {"fio2_set", "fio2_at_sample", "ecmo_fdo2", "paco2", "pao2"}
    assert all(field.per == 1 for field in FIELDS.values())


@pytest.mark.parametrize(
    ("key", "stored", "written"),
    [
        ("fio2_set", "70", "0.70"),
        ("peep_set", "12", "12"),
        ("vt_per_pbw", "8.0", "8.0"),
        ("fio2_set", "", ""),
        ("fio2_set", "sixty", "sixty"),
    ],
)
def test_a_stored_text_is_written_the_same_way(key: str, stored: str, written: str):
    assert FRACTION.text(key, stored) == written
    assert PLAIN.text(key, stored) == stored


@pytest.mark.parametrize(("stored", "side"), [("59", ""), ("60", ""), ("61", "over")])
def test_a_limit_says_the_same_of_a_value_however_both_are_written(stored: str, side: str):
    limit = starting_policy().limits["fio2_set"]
    for words in (PLAIN, FRACTION):
        displayed = Decimal(words.text("fio2_set", stored))
        assert words.limit(limit).beyond(displayed) == side
    assert FRACTION.end("fio2_set", Decimal(60)) == "0.60"


@pytest.mark.parametrize(("stored", "side"), [("45.3", ""), ("45.4", "over")])
def test_a_limit_in_kilopascal_is_held_against_the_kilopascal_that_are_displayed(stored, side: str):
    limit = KPA.limit(Limit("paco2", None, Decimal(45), "the unit's own"))
    displayed = Decimal(shown(KPA.fields["paco2"], Decimal(stored)))
    assert (limit.over, limit.beyond(displayed)) == (Decimal("6.0"), side)


def test_a_limit_with_one_end_keeps_it():
    limit = replace(starting_policy().limits["fio2_set"], over=None, under=Decimal(30))
    assert (FRACTION.limit(limit).under, FRACTION.limit(limit).over) == (Decimal("0.30"), None)


def test_a_site_calls_things_by_its_own_names_and_the_rest_by_the_usual_ones():
    site = SiteWords(called={LIMITS_OF_CARE: "ceilings of care", "LEAD": "charge therapist"})
    assert site.name(LIMITS_OF_CARE) == "ceilings of care"
    assert site.name(RECORD_NUMBER) == "record number"
    assert site.name("LEAD", "lead") == "charge therapist"
    assert site.name("READER", "reader") == "reader"
