"""A policy is refused by the name of its entry; the shipped one is whole and cites its sources."""

from decimal import Decimal

import pytest

from app.rules.policy import (
    STARTING_POLICY_FILE,
    Limit,
    PolicyError,
    read_policy,
    starting_policy,
)

TEXT = STARTING_POLICY_FILE.read_text(encoding="utf-8")


def test_the_starting_policy_sets_the_limits_of_the_published_protocols() -> None:
    limits = starting_policy().limits
    # ATS/ESICM/SCCM 2017: 4 to 8 mL/kg; ARDS Network protocol: plateau at most 30 cmH2O.
    assert limits["vt_per_pbw"].over == 8
    assert limits["plateau_pressure_obs"].over == 30
    assert limits["driving_pressure"].over == 15


def test_every_limit_names_its_source() -> None:
    assert all(limit.source for limit in starting_policy().limits.values())


@pytest.mark.parametrize(("shown", "verdict"), [("14", ""), ("15", ""), ("15.1", "over")])
def test_over_fifteen_means_greater_than_fifteen_as_displayed(shown: str, verdict: str) -> None:
    assert Limit("driving_pressure", None, Decimal(15), "x").beyond(Decimal(shown)) == verdict


@pytest.mark.parametrize(("shown", "verdict"), [("19", "under"), ("20", ""), ("31", "over")])
def test_a_range_has_two_ends_and_both_belong_to_it(shown: str, verdict: str) -> None:
    assert Limit("cuff", Decimal(20), Decimal(30), "x").beyond(Decimal(shown)) == verdict


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ("over = 8.0", "", "limits.vt_per_pbw"),
        ('group = "volume"', 'group = "noise"', "limits.vt_per_pbw.group"),
        ("over = 8.0", "over = true", "limits.vt_per_pbw.over"),
        ("adult_age_y = 18", "adult_age_y = 15", "patients.adult_age_y"),
        ('"03:30", ', '"25:30", ', "rounds.times"),
        ("overdue_after_min = 120", "overdue_after_min = 30", "rounds.overdue_after_min"),
        ("barometric_mmhg = 760", 'barometric_mmhg = "high"', "site.barometric_mmhg"),
        ("[noise]", "[nose]", "noise"),
        ("under = 20", "under = 40", "limits.cuff_pressure_cmh2o"),
        ('title = "Starting policy"', "title = ", "file"),
    ],
)
def test_a_policy_that_cannot_be_used_says_where(old: str, new: str, where: str) -> None:
    assert old in TEXT
    with pytest.raises(PolicyError) as refused:
        read_policy(TEXT.replace(old, new, 1))
    assert refused.value.where == where


def test_a_limit_without_a_source_is_refused() -> None:
    text = TEXT.replace('source = "ARDS Network protocol: plateau at most 30 cmH2O."', "", 1)
    with pytest.raises(PolicyError) as refused:
        read_policy(text)
    assert refused.value.where == "limits.plateau_pressure_obs.source"


def test_the_cylinder_letters_are_those_of_a_printed_page_with_its_reserve() -> None:
    # Tank-factor how-to page: D 0.16, E 0.28, G 2.41, H 3.14, M 1.56 L/psi, 200 psi kept back.
    cylinders = starting_policy().cylinders
    printed = {"D": "0.16", "E": "0.28", "G": "2.41", "H": "3.14", "M": "1.56"}
    assert cylinders.factors == {letter: Decimal(text) for letter, text in printed.items()}
    assert (cylinders.reserve_psi, bool(cylinders.source)) == (200, True)


def test_a_policy_without_cylinder_letters_has_none() -> None:
    start, end = TEXT.index("[cylinders]"), TEXT.index("[rounds]")
    assert read_policy(TEXT[:start] + TEXT[end:]).cylinders.factors == {}


@pytest.mark.parametrize(
    ("line", "instead"),
    [
        ("E = 0.28", "E = 0"),
        ("E = 0.28", 'E = "0.28"'),
        ("reserve_psi = 200", "reserve_psi = -1"),
        ("reserve_psi = 200", ""),
        ('source = "Tank', 'was = "Tank'),
    ],
)
def test_a_cylinder_list_that_cannot_be_used_is_refused_by_name(line: str, instead: str) -> None:
    with pytest.raises(PolicyError, match="cylinders"):
        read_policy(TEXT.replace(line, instead))


def test_the_days_of_a_course_are_numbers_of_the_policy() -> None:
    policy = starting_policy()
    assert (policy.ventilator_gap_days, policy.fresh_tracheostomy_days) == (1, 7)
    text = TEXT.replace("fresh_tracheostomy_days = 7", "fresh_tracheostomy_days = 10")
    assert read_policy(text).fresh_tracheostomy_days == 10


def test_a_policy_from_before_the_days_of_a_course_has_those_that_ship() -> None:
    start = TEXT.index("[course]")
    older = read_policy(TEXT[:start] + TEXT[TEXT.index("\n# Litres", start) :])
    assert (older.ventilator_gap_days, older.fresh_tracheostomy_days) == (1, 7)


@pytest.mark.parametrize("days", ["0", "1.5", '"1"'])
def test_days_that_are_no_whole_days_are_refused_by_name(days: str) -> None:
    with pytest.raises(PolicyError, match=r"course\.ventilator_gap_days"):
        read_policy(TEXT.replace("ventilator_gap_days = 1", f"ventilator_gap_days = {days}"))
