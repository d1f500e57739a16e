"""When an inhaled treatment is due, and what cannot be ordered, given or stopped."""

from datetime import timedelta
from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.treatments import (
    Given,
    Treatment,
    giving_refused,
    order_refused,
    stop_refused,
)
from tests.charting.rows import AT, later

EVERY_FOUR = Treatment(
    "t", "t", "salbutamol", "2.5 mg", "nebuliser", Decimal(4), "Dr Oak", AT, "ash"
)
SECOND = timedelta(seconds=1)


def given(*hours: float) -> Treatment:
    times = tuple(Given(f"g{hour}", later(hours=hour), "ash") for hour in hours)
    return replace(EVERY_FOUR, given=times)


@pytest.mark.parametrize(
    ("treatment", "due"),
    [
        (EVERY_FOUR, AT),
        (given(1), later(hours=5)),
        (given(9, 1), later(hours=13)),
        (replace(given(1), interval_h=Decimal("0.5")), later(hours=1.5)),
        (replace(given(1), interval_h=None), None),
        (replace(given(1), stopped_at=later(hours=2)), None),
    ],
)
def test_it_is_due_so_many_hours_after_the_last_time(treatment: Treatment, due) -> None:
    assert treatment.due_at() == due


STOPPED = replace(EVERY_FOUR, stopped_at=later(hours=2))


@pytest.mark.parametrize(
    ("treatment", "at", "words"),
    [
        (EVERY_FOUR, AT - SECOND, "not been ordered by then"),
        (EVERY_FOUR, AT, ""),
        (STOPPED, later(hours=2) - SECOND, ""),
        (STOPPED, later(hours=2), "been stopped by then"),
    ],
)
def test_it_is_given_between_its_order_and_its_stop(treatment, at, words) -> None:
    assert words in " ".join(giving_refused(treatment, at))
    assert bool(list(giving_refused(treatment, at))) is bool(words)


@pytest.mark.parametrize(
    ("treatment", "at", "words"),
    [
        (given(1), later(hours=1) - SECOND, "given after that time"),
        (given(1), later(hours=1), ""),
        (EVERY_FOUR, AT - SECOND, "not been ordered by then"),
        (STOPPED, later(hours=3), "stopped already"),
    ],
)
def test_it_is_stopped_once_and_not_before_it_was_given(treatment, at, words) -> None:
    assert words in " ".join(stop_refused(treatment, at))
    assert bool(list(stop_refused(treatment, at))) is bool(words)


@pytest.mark.parametrize(
    ("changed", "as_needed", "words"),
    [
        ({}, False, ""),
        ({"interval_h": None}, True, ""),
        ({"interval_h": None}, False, "one of the two"),
        ({}, True, "one of the two"),
        ({"drug": ""}, False, "what was ordered"),
        ({"dose": ""}, False, "the dose"),
        ({"route": ""}, False, "which route"),
        ({"ordered_by": ""}, False, "who ordered it"),
    ],
)
def test_an_order_says_what_how_much_by_which_way_how_often_and_who(changed, as_needed, words):
    told = {
        "drug": "salbutamol",
        "dose": "2.5 mg",
        "route": "nebuliser",
        "interval_h": Decimal(4),
        "ordered_by": "Dr Oak",
    }
    found = list(order_refused(**{**told, **changed}, as_needed=as_needed))
    assert bool(found) is bool(words)
    assert words in " ".join(found)
